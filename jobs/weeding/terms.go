package weeding

// Terms are what the times of weeding are counted by: the seconds of a practised hand
// are each of the Times times its term.
type Terms struct {
	Starts   float64 `json:"starts"`    // loads
	ContourM float64 `json:"contour_m"` // of kept contour, with its difficulty, like those that follow
	Grounds  float64 `json:"grounds"`
	Counters float64 `json:"counters"`
	Fragile  float64 `json:"fragile"`
}

// TermsOf returns the terms of so many copies, none of a start.
func (t Times) TermsOf(e Effort, copies int) Terms {
	n := t.Difficulty(e.LeastHeightMM) * float64(copies)
	return Terms{ContourM: n * e.KeptContourM, Grounds: n * float64(e.Grounds), Counters: n * float64(e.Counters), Fragile: n * float64(e.Fragile)}
}

// Plus adds terms up.
func (t Terms) Plus(u Terms) Terms {
	return Terms{t.Starts + u.Starts, t.ContourM + u.ContourM, t.Grounds + u.Grounds, t.Counters + u.Counters, t.Fragile + u.Fragile}
}

// List lists the terms in the order of Times.List.
func (t Terms) List() []float64 {
	return []float64{t.Starts, t.ContourM, t.Grounds, t.Counters, t.Fragile}
}

// List lists the times that a workshop fits, in s.
func (t Times) List() []float64 {
	return []float64{t.StartS, t.ContourSPM, t.GroundS, t.CounterS, t.FragileS}
}
