package estimate

import "math"

// divide parts minutes as these weigh, in whole hundredths whose sums are the minutes:
// the low ones, then what the likely ones are more, then the high ones, so that no part
// has a low end over its likely minutes.
func (r Range) divide(weights []Range) []Range {
	parts := make([]Range, len(weights))
	low := apportion(r.Low, weights, func(w Range) float64 { return w.Low })
	more := apportion(r.Likely-r.Low, weights, func(w Range) float64 { return w.Likely - w.Low })
	most := apportion(r.High-r.Likely, weights, func(w Range) float64 { return w.High - w.Likely })
	for i := range parts {
		parts[i] = Range{hundred(low[i]), hundred(low[i] + more[i]), hundred(low[i] + more[i] + most[i])}
	}
	return parts
}

// apportion returns whole hundredths that sum to the minutes, none below zero: each is
// how far the rounded sum has come on by its weight. Where nothing weighs, the first has
// it all.
func apportion(minutes float64, weights []Range, of func(Range) float64) []int {
	whole, sum := int(math.Round(100*minutes)), 0.0
	for _, w := range weights {
		sum += of(w)
	}
	parts, come, given := make([]int, len(weights)), 0.0, 0
	for i, w := range weights {
		come += of(w)
		to := whole
		if sum > 0 && i < len(weights)-1 {
			to = int(math.Round(float64(whole) * math.Min(1, come/sum)))
		}
		parts[i], given = to-given, to
	}
	return parts
}

func hundred(n int) float64 { return float64(n) / 100 }

// rounded takes the noise of sums off hundredths.
func (r Range) rounded() Range {
	round := func(v float64) float64 { return math.Round(100*v) / 100 }
	return Range{round(r.Low), round(r.Likely), round(r.High)}
}
