package workshop

// Joint is how two panels of one piece meet.
type Joint string

// The joints.
const (
	Overlap Joint = "overlap" // one lies over the other
	Butt    Joint = "butt"    // edge to edge: where an overlap would show
	Tab     Joint = "tab"     // one has a tab that is glued behind the other
)

// Join is how panels of a stock are joined, and how far they overlap or how wide
// the glue tab is, in mm.
type Join struct {
	Joint     Joint   `json:"joint"`
	OverlapMM float64 `json:"overlap_mm"` // 0 for a butt joint
}

// JoinOf is how panels of a family are joined where the stock does not say it:
// calendered film shrinks and overlaps by 10 mm, cast film by 6; an overlap of heat
// film shows, and of frosted or translucent film too, whose stock has to say so; card
// gets a glue tab of 10 mm (common practice, no source; editable).
func JoinOf(f Family) Join {
	switch f {
	case CastFilm:
		return Join{Overlap, 6}
	case HeatFilm, StencilSheet, MagneticSheet:
		return Join{Butt, 0}
	case Paper, LightCard, HeavyCard:
		return Join{Tab, 10}
	}
	return Join{Overlap, 10}
}

// Joined returns how panels of the stock are joined.
func (s Stock) Joined() Join {
	if s.Join != nil {
		return *s.Join
	}
	return JoinOf(s.Family)
}
