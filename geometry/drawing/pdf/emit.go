package pdf

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// emit turns a finished path into a shape of the drawing, or notes why it is
// none.
func (c *contentRun) emit(paths []geometry.Path, stroked, filled bool, rule drawing.FillRule) {
	if c.painted++; c.painted > c.opt.Limits.Paths {
		c.stop(limitPaths, c.opt.Limits.Paths)
		return
	}
	c.out.Kinds[c.kind]++
	layer, off := c.marks.layer(c.b)
	s := drawing.Shape{
		Paths: paths, Layer: layer, Nested: c.nested(),
		Source: drawing.Source{Kind: c.kind, ID: fmt.Sprint(c.painted)},
	}
	for _, p := range paths {
		c.b.Spend(1 + len(p.Segments))
	}
	box := s.Bounds()
	here := place(s.Source, layer, box)
	if !finite(box) || !drawing.Ordinary(paths, farthest) || !ordinary(s.Nested) {
		c.notes.Add(drawing.OutOfRange, s.Source.String(), place(s.Source, layer, drawing.Reach(paths, farthest)))
		return
	}
	c.ink(&s, stroked, filled, rule)
	name := layer
	if name == "" {
		name = s.Source.String()
	}
	switch {
	case off:
		c.notes.Add(drawing.HiddenGeometry, name, here)
	case s.Stroke == nil && s.Fill == nil:
		c.notes.Add(drawing.UnpaintedGeometry, name, here)
	default:
		s.Mirrored = c.turned(c.state.ctm)
		c.remark(&s, stroked, filled, here)
		c.out.Shapes = append(c.out.Shapes, s)
		return
	}
	if c.opt.KeepHidden {
		c.out.Shapes = append(c.out.Shapes, s)
	}
}

// ink fills in stroke and fill.
func (c *contentRun) ink(s *drawing.Shape, stroked, filled bool, rule drawing.FillRule) {
	if stroked {
		s.Stroke = converter{c.reader}.colour(c.state.stroke)
	}
	if filled {
		s.Fill = converter{c.reader}.colour(c.state.fill)
	}
	if s.Stroke != nil {
		s.StrokeWidth = c.state.lineWidth(&c.notes)
		s.Dashed, s.DashDot = c.state.dashed, c.state.dashDot
	}
	if s.Fill != nil {
		s.FillRule = rule
	}
}

// lineWidth returns the width of a stroke on the page in points. One that is
// wider than any sheet is noted and counts as the thinnest.
func (s *state) lineWidth(notes *drawing.Notes) float64 {
	width := math.Abs(s.width) * s.ctm.MeanScale()
	if !(width <= farthest) {
		notes.Add(drawing.ValueUnreadable, "line width", nil)
		return 0
	}
	return width
}

// ordinary reports whether a scale is one that a drawing can have been placed
// at: what is beyond has lost its digits.
func ordinary(scale float64) bool { return scale >= 1e-9 && scale <= 1e9 || scale == 0 }

// nested returns the scale of the content against the page; rounding errors of
// float64 count as none.
func (c *contentRun) nested() float64 {
	k := c.state.ctm.MeanScale() / c.base.MeanScale()
	const slack = 1e-9
	if k > 1-slack && k < 1+slack {
		return 1
	}
	return k
}

// turned reports whether the shape is turned over against the first one of the
// page. Many programs turn the whole page over because their own y axis points
// down, which says nothing.
func (r *reader) turned(ctm geometry.Affine) bool {
	sign := 1
	if ctm.Det() < 0 {
		sign = -1
	}
	if r.upright == 0 {
		r.upright = sign
	}
	return sign != r.upright
}

// remark notes what a knife cannot follow about a visible shape, and cuts off
// by clips.
func (c *contentRun) remark(s *drawing.Shape, stroked, filled bool, here *drawing.Place) {
	name := s.Source.String()
	if stroked && c.state.stroke.pattern || filled && c.state.fill.pattern {
		c.notes.Add(drawing.PaintServerUsed, name, here)
	}
	if s.Dashed {
		c.notes.Add(drawing.DashedLine, name, here)
	}
	if c.state.masked {
		c.notes.Add(drawing.MaskUsed, name, here)
	}
	c.b.Spend(len(c.state.clips))
	if s.Clips = c.clips.Cutting(c.b, c.state.clips, s.Paths, here.Box); len(s.Clips) > 0 {
		c.notes.Add(drawing.ClipPathUsed, name, here)
	}
}
