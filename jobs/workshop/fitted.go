package workshop

// Work tells blades for card and for film apart: paper dulls a blade that film needs
// keen.
type Work string

// The kinds of work.
const (
	CardWork Work = "card" // all stock without a liner
	FilmWork Work = "film"
)

// Work returns which blades the stock is cut with.
func (s Stock) Work() Work {
	if s.Liner {
		return FilmWork
	}
	return CardWork
}

// FittedBlade is an individual blade that was put in: of a kind that the machine
// keeps, with the offset that was measured on it. How far it has cut is counted
// elsewhere, so that no plan depends on it.
type FittedBlade struct {
	ID        string  `json:"id"`
	MachineID string  `json:"machine_id"`
	BladeID   string  `json:"blade_id"` // its kind
	Work      Work    `json:"work"`
	OffsetMM  float64 `json:"offset_mm"`
	FittedOn  string  `json:"fitted_on"` // ISO 8601 date
}

// With returns the machine with the blades that were put in last for the work in the
// place of their kinds; of those put in on one day the one listed last.
func (m Machine) With(fitted []FittedBlade, work Work) Machine {
	last := map[string]FittedBlade{}
	for _, f := range fitted {
		if f.MachineID == m.ID && f.Work == work && f.FittedOn >= last[f.BladeID].FittedOn {
			last[f.BladeID] = f
		}
	}
	put := func(b Blade) Blade {
		if f, ok := last[b.ID]; ok {
			b.OffsetMM, b.Fitted = f.OffsetMM, f.ID
		}
		return b
	}
	m.Blade = put(m.Blade)
	blades := make([]Blade, len(m.Blades))
	for i, b := range m.Blades {
		blades[i] = put(b)
	}
	if len(blades) > 0 {
		m.Blades = blades
	}
	return m
}
