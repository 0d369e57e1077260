package weeding

import "math"

// Times are the bench times of weeding. A workshop fits them to its own timed
// jobs (design: weeding, minutes).
type Times struct {
	StartS      float64 `json:"start_s"`         // t0, once a load
	ContourSPM  float64 `json:"contour_s_per_m"` // t_s, for a metre of kept contour
	GroundS     float64 `json:"ground_s"`        // t_g
	CounterS    float64 `json:"counter_s"`       // t_c
	FragileS    float64 `json:"fragile_s"`       // t_k
	RefHeightMM float64 `json:"ref_height_mm"`   // h_ref, letters of difficulty 1
	Power       float64 `json:"power"`           // p
	Novice      float64 `json:"novice"`          // factor on all of it for a beginner
}

// DefaultTimes are the start values of design practice (no source).
func DefaultTimes() Times {
	return Times{StartS: 30, ContourSPM: 12, GroundS: 6, CounterS: 4, FragileS: 3, RefHeightMM: 15, Power: 1, Novice: 2}
}

// Difficulty returns D = clamp((h_ref/h)^p, 1, 4) for letters of height h mm,
// 1 where there is no lettering.
func (t Times) Difficulty(h float64) float64 {
	if h <= 0 {
		return 1
	}
	return math.Max(1, math.Min(4, math.Pow(t.RefHeightMM/h, t.Power)))
}

// Sum returns the effort of several copies together. Its counts and times are sums, its
// letters the smallest and its difficulty that of the hardest.
func Sum(all []Effort) Effort {
	sum := Effort{Of: all}
	for _, e := range all {
		sum.KeptContourM += e.KeptContourM
		sum.Grounds += e.Grounds
		sum.Counters += e.Counters
		sum.Fragile += e.Fragile
		if e.LeastHeightMM > 0 && (sum.LeastHeightMM == 0 || e.LeastHeightMM < sum.LeastHeightMM) {
			sum.LeastHeightMM = e.LeastHeightMM
		}
		sum.Difficulty = math.Max(sum.Difficulty, e.Difficulty)
		sum.CopyS += e.CopyS
		sum.StartS = math.Max(sum.StartS, e.StartS)
	}
	return sum
}

// Weigh returns e with its times worked out from its counts:
//
//	one copy = D·(t_s·L_keep + t_g·n_ground + t_c·n_counter + t_k·n_fragile)
//
// That of a sum is the sum.
func (t Times) Weigh(e Effort, novice bool) Effort {
	if len(e.Of) > 0 {
		all := make([]Effort, len(e.Of))
		for i, one := range e.Of {
			all[i] = t.Weigh(one, novice)
		}
		return Sum(all)
	}
	e.Difficulty = t.Difficulty(e.LeastHeightMM)
	e.CopyS = e.Difficulty * (t.ContourSPM*e.KeptContourM + t.GroundS*float64(e.Grounds) +
		t.CounterS*float64(e.Counters) + t.FragileS*float64(e.Fragile))
	e.StartS = t.StartS
	if novice {
		e.CopyS *= t.Novice
		e.StartS *= t.Novice
	}
	return e
}

// Seconds returns the bench time for one load with the given copies.
func (e Effort) Seconds(copies int) float64 { return e.StartS + float64(copies)*e.CopyS }
