package workshop

import "knifedesk/geometry"

// Axes says how a machine counts: which of its directions the feed is, and from
// which corner of the stock. The zero Axes is y along the feed, from the corner
// of the loading edge at the left.
type Axes struct {
	Feed   Direction `json:"feed,omitempty"`
	Origin Corner    `json:"origin,omitempty"`
}

// Direction is a direction in the machine's coordinates.
type Direction string

// The directions that the feed can have: from the loading edge of the stock to
// its tail.
const (
	PlusY  Direction = "+y"
	MinusY Direction = "-y"
	PlusX  Direction = "+x"
	MinusX Direction = "-x"
)

// Corner is a corner of the stock, looking along the feed.
type Corner string

// The corners from which a machine can count.
const (
	LeadLeft  Corner = "lead_left"
	LeadRight Corner = "lead_right"
	TailLeft  Corner = "tail_left"
	TailRight Corner = "tail_right"
)

// turn is how the coordinates of a load are turned into those of the machine.
func (a Axes) turn() geometry.Affine {
	switch a.Feed {
	case MinusY:
		return geometry.Affine{A: -1, D: -1}
	case PlusX:
		return geometry.Affine{B: -1, C: 1}
	case MinusX:
		return geometry.Affine{B: 1, C: -1}
	}
	return geometry.Identity
}

// Rest returns the corner of a sheet from which the machine counts and where its axis
// rests, in load coordinates.
func (a Axes) Rest(width, length float64) geometry.Point {
	var p geometry.Point
	if a.Origin == LeadRight || a.Origin == TailRight {
		p.X = width
	}
	if a.Origin == TailLeft || a.Origin == TailRight {
		p.Y = length
	}
	return p
}

// Onto returns the map from the coordinates of a load of that size in mm to those
// of the machine, a turn without a mirroring, and the sheet in the latter.
func (a Axes) Onto(width, length float64) (geometry.Affine, geometry.Box) {
	o := a.Rest(width, length)
	m := geometry.Translate(-o.X, -o.Y).Then(a.turn())
	return m, geometry.BoxAround(m.Apply(geometry.Point{}), m.Apply(geometry.Pt(width, length)))
}

// Words says in a sentence how a file for the machine is laid.
func (a Axes) Words() string {
	feed, origin := a.Feed, a.Origin
	if feed == "" {
		feed = PlusY
	}
	where := map[Corner]string{
		LeadRight: "right corner of the loading edge", TailLeft: "left corner of the tail edge", TailRight: "right corner of the tail edge",
	}[origin]
	if where == "" {
		where = "left corner of the loading edge"
	}
	return "the feed runs along " + string(feed) + ", counted from the " + where
}
