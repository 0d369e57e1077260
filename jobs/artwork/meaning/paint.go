package meaning

import (
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/workshop"
)

// Near is a rule whose colour is close to what a shape shows.
type Near struct {
	Means   workshop.Meaning
	DeltaE  float64 // CIEDE2000
	Colours string  // of the rule, in words
}

// ReadPaint reads by a convention what a shape shows: its fill, and for want of one its
// line. Where no rule matches the meaning is empty, and the rules that all but their
// colour match are returned, the nearest first. The width of lines counts for nothing.
func ReadPaint(c *workshop.Convention, s *drawing.Shape) (workshop.Meaning, []Near) {
	m := mark{layer: s.Layer}
	if shown := Shows(s); shown != nil {
		m.colour = *shown
	}
	r := read(c, m)
	var near []Near
	for _, n := range r.near {
		near = append(near, Near{Means: n.rule.Means, DeltaE: n.delta, Colours: colourWords(*n.rule.Colour)})
	}
	return r.means, near
}

// Shows is the colour of a shape as an area: that of its fill, and for want of one of
// its line; nil: it has neither.
func Shows(s *drawing.Shape) *drawing.Colour {
	if s.Fill != nil {
		return s.Fill
	}
	return s.Stroke
}

// ColourWords names a colour: "dark green (#006400)".
func ColourWords(c drawing.Colour) string { return colourWords(c) }
