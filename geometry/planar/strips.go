package planar

import (
	"math"

	"knifedesk/geometry/budget"
)

// strips cuts the plane into upright strips that hold about the same number
// of segment ends each. Strip k owns the nodes with bounds[k] ≤ x < bounds[k+1].
type strips struct {
	bounds []int32
	// hint[i] is the strip of the first x of the i-th of equally wide slices.
	hint  []int32
	shift uint
}

// mostPieces bounds into how many strips a segment reaches on average.
const mostPieces = 6

// stripsFor chooses strips for segs. More strips mean fewer pairs of segments
// that share a stretch of y in a strip, but more pieces of long segments. With
// n segments of summed sides sx and sy in a box w × h, k strips hold
// n + k·sx/w pieces and meet about n·sy/(k·h) pairs, so the least work is
// near k = √(n·(sy/h)/(sx/w)), times a constant found by measurement. Pieces
// are kept to mostPieces a segment, for long lines side by side, where more
// strips do not help.
func stripsFor(b *budget.Budget, segs []segment, balance float64) strips {
	b.Spend(len(segs))
	minX, maxX, minY, maxY := int32(math.MaxInt32), int32(math.MinInt32), int32(math.MaxInt32), int32(math.MinInt32)
	var sx, sy float64
	for _, s := range segs {
		lo, hi := s.ySpan()
		minX, maxX = min(minX, s.a.x), max(maxX, s.b.x)
		minY, maxY = min(minY, lo), max(maxY, hi)
		sx += float64(s.b.x - s.a.x)
		sy += float64(hi - lo)
	}
	n := float64(len(segs))
	most := n/16 + 1
	wide, high := float64(maxX-minX), float64(maxY-minY)
	k := most
	if sx > 0 {
		k = balance * math.Sqrt(n*(sy/math.Max(high, 1))/(sx/wide))
		k = math.Min(math.Min(k, most), mostPieces*n*wide/sx)
	}
	return cutStrips(b, segs, int(math.Max(1, k)), minX, maxX)
}

// cutStrips places the bounds of about k strips at equal shares of a sample
// of the segments' ends.
func cutStrips(b *budget.Budget, segs []segment, k int, minX, maxX int32) strips {
	const perStrip = 16
	step := max(1, len(segs)/(k*perStrip))
	var sample []uint64
	for i := 0; i < len(segs); i += step {
		sample = append(sample, uint64(sortable(segs[i].a.x))<<32, uint64(sortable(segs[i].b.x))<<32)
	}
	b.Spend(len(sample))
	sample, _ = byHigh(sample, nil)
	bounds := []int32{minX}
	for i := 1; i < k; i++ {
		if x := unsortable(uint32(sample[i*len(sample)/k] >> 32)); x > bounds[len(bounds)-1] {
			bounds = append(bounds, x)
		}
	}
	st := strips{bounds: append(bounds, maxX+1)}
	st.index(4 * k)
	return st
}

// index fills the table of hints with at most 2·size slices.
func (st *strips) index(size int) {
	first, last := st.bounds[0], st.bounds[len(st.bounds)-1]
	for int(last-first)>>st.shift > size {
		st.shift++
	}
	k := int32(0)
	for x := int64(first); x < int64(last); x += 1 << st.shift {
		for int64(st.bounds[k+1]) <= x {
			k++
		}
		st.hint = append(st.hint, k)
	}
}

func (st *strips) count() int { return len(st.bounds) - 1 }

// at returns the strip that owns x, which must lie within the bounds.
func (st *strips) at(x int32) int {
	k := st.hint[(x-st.bounds[0])>>st.shift]
	for st.bounds[k+1] <= x {
		k++
	}
	return int(k)
}

// fill lists for every strip the segments that reach it: those of strip k
// are ids[start[k]:start[k+1]], in the order of segs.
func (st *strips) fill(b *budget.Budget, segs []segment) (start, ids []int32) {
	start = make([]int32, st.count()+2)
	for _, s := range segs {
		first, last := st.at(s.a.x), st.at(s.b.x)
		b.Spend(last - first + 1)
		for k := first; k <= last; k++ {
			start[k+2]++
		}
	}
	for k := 2; k < len(start); k++ {
		start[k] += start[k-1]
	}
	ids = make([]int32, start[len(start)-1])
	for i, s := range segs {
		first, last := st.at(s.a.x), st.at(s.b.x)
		b.Spend(last - first + 1)
		for k := first; k <= last; k++ {
			ids[start[k+1]] = int32(i)
			start[k+1]++
		}
	}
	return start[:st.count()+1], ids
}
