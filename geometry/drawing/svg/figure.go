package svg

import (
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// figure is one element with its style at its place: what is known where its
// geometry properties are read and its outline is drawn.
type figure struct {
	b     *budget.Budget
	notes *drawing.Notes
	flip  geometry.Affine // as the canvas has it
	most  int             // segments that an outline may have
	e     *element
	o     *own
	at    *spot
}

// figure returns e with its style at a place, whose values are read as they are
// when a method asks.
func (r *reader) figure(e *element, o *own, at *spot) *figure {
	return &figure{
		b: r.b, notes: r.notes, flip: r.canvas.flip, most: r.quota.limits.Segments - r.quota.segments + 1,
		e: e, o: o, at: at,
	}
}

// coordinate returns a geometry property in user units, 0 where it is not set.
func (f *figure) coordinate(p property, a axis) float64 {
	v, _ := f.optional(p, a)
	return v
}

// optional returns a geometry property in user units and whether it is set.
// A value that cannot be read is noted and counts as not set.
func (f *figure) optional(p property, a axis) (float64, bool) {
	text := strings.TrimSpace(f.o.value(p))
	if text == "" || text == "auto" {
		return 0, false
	}
	l, ok := parseLength(text)
	if !ok {
		f.notes.Add(drawing.ValueUnreadable, text, place(f.e, f.at.layer.name, geometry.EmptyBox()))
		return 0, false
	}
	return f.at.m.px(l, a), true
}
