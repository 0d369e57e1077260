package workshop

// Held is how a stock lies in the machine in one way of holding it, where that is
// not the stock's usual one: how near to its edges the knife works, and how far
// pieces lie apart.
type Held struct {
	Hold          Hold    `json:"hold"`
	MatTack       Tack    `json:"mat_tack,omitempty"`
	UsableWidthMM float64 `json:"usable_width_mm"`
	MarginMM      float64 `json:"margin_mm"`
	LeastMarginMM float64 `json:"least_margin_mm,omitempty"`
	GapMM         float64 `json:"gap_mm"`
}

// HeldBy returns the stock as it is held in this way, and whether it can be: an
// empty hold is the usual one.
func (s Stock) HeldBy(hold Hold) (Stock, bool) {
	if hold == "" || hold == s.Hold {
		return s, true
	}
	h, ok := find(s.Holds, func(h Held) bool { return h.Hold == hold })
	if !ok {
		return s, false
	}
	usual := Held{s.Hold, s.MatTack, s.UsableWidthMM, s.MarginMM, s.LeastMarginMM, s.GapMM}
	s.Hold, s.MatTack, s.UsableWidthMM = h.Hold, h.MatTack, h.UsableWidthMM
	s.MarginMM, s.LeastMarginMM, s.GapMM = h.MarginMM, h.LeastMarginMM, h.GapMM
	others := []Held{usual}
	for _, one := range s.Holds {
		if one.Hold != hold {
			others = append(others, one)
		}
	}
	s.Holds = others
	return s, true
}

// KnownHolds lists the ways in which the stock can be held, the usual one first.
func (s Stock) KnownHolds() []string {
	all := []string{string(s.Hold)}
	for _, h := range s.Holds {
		all = append(all, string(h.Hold))
	}
	return all
}

// Words says how stock is held, as the end of a sentence.
func (h Hold) Words() string {
	if h == Mat {
		return "on a mat"
	}
	return "in the rollers without a mat"
}
