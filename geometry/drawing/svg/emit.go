package svg

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// emit turns an outline into a shape of the drawing, or notes why it is none.
func (r *reader) emit(e *element, o *own, outline []geometry.Path, at spot) {
	if len(outline) == 0 || r.quota.stopped {
		return
	}
	paths := r.placed(outline, at.ctm.Then(r.canvas.flip))
	box := boundsOf(r.b, paths)
	s := drawing.Shape{
		Paths: paths, Layer: at.layer.name, Source: e.source(),
		Mirrored: at.ctm.Det() < 0, Nested: r.canvas.nested(at.ctm),
	}
	here := place(e, s.Layer, box)
	if !finite(box) || !ordinary(s.Nested) || !drawing.Ordinary(paths, farthest) {
		r.notes.Add(drawing.OutOfRange, e.name, place(e, s.Layer, drawing.Reach(paths, farthest)))
		return
	}
	r.painter.paint(&s, e, o, at)
	if s.Stroke == nil && s.Fill != nil {
		s.Fill, s.Paths = filled(s.Fill, s.Paths)
	}
	switch {
	case at.gone:
		r.notes.Add(drawing.HiddenGeometry, hiddenName(e, at), here)
		return
	case at.style.hidden, at.ctm.Det() == 0: // a flat transform shows nothing: CSS Transforms 1, section 10
		r.notes.Add(drawing.HiddenGeometry, hiddenName(e, at), here)
	case s.Stroke == nil && s.Fill == nil:
		r.notes.Add(drawing.UnpaintedGeometry, hiddenName(e, at), here)
	default:
		r.remark(&s, at, here)
		r.canvas.add(s, at.flipped)
		return
	}
	if r.opt.KeepHidden {
		r.canvas.add(s, at.flipped)
	}
}

func hiddenName(e *element, at spot) string {
	if at.layer.name != "" {
		return at.layer.name
	}
	return e.source().String()
}

// placed maps paths into the drawing, up to the limit of segments.
func (r *reader) placed(outline []geometry.Path, m geometry.Affine) []geometry.Path {
	paths := make([]geometry.Path, 0, len(outline))
	for _, p := range outline {
		if r.quota.segments += len(p.Segments); r.quota.segments > r.quota.limits.Segments {
			r.quota.stop(limitSegments, r.quota.limits.Segments)
			break
		}
		r.b.Spend(1 + len(p.Segments))
		paths = append(paths, p.Transform(m))
	}
	return paths
}

// remark notes what a knife cannot follow about a visible shape, and cuts off
// by clips.
func (r *reader) remark(s *drawing.Shape, at spot, here *drawing.Place) {
	st := &at.style
	if s.Fill != nil && st.fill.kind == paintServer || s.Stroke != nil && st.stroke.kind == paintServer {
		r.notes.Add(drawing.PaintServerUsed, s.Source.String(), here)
	}
	if s.Dashed {
		r.notes.Add(drawing.DashedLine, s.Source.String(), here)
	}
	if at.shaded {
		r.notes.Add(drawing.EffectUsed, s.Source.String(), here)
	}
	if at.masked {
		r.notes.Add(drawing.MaskUsed, s.Source.String(), here)
	}
	if st.markers != [3]bool{} && hasEnds(s.Source.Kind) {
		r.notes.Add(drawing.MarkerIgnored, s.Source.String(), here)
	}
	r.b.Spend(len(at.clips))
	if s.Clips = r.clips.regions.Cutting(r.b, at.clips, s.Paths, here.Box); len(s.Clips) > 0 {
		r.notes.Add(drawing.ClipPathUsed, s.Source.String(), here)
	}
}

// hasEnds reports whether markers stand on elements of that name.
func hasEnds(name string) bool {
	switch name {
	case "path", "line", "polyline", "polygon":
		return true
	}
	return false
}

// filled drops from a fill the paths that lie on one line: they have no inside
// and show nothing. Where all do, there is no fill.
func filled(fill *drawing.Colour, paths []geometry.Path) (*drawing.Colour, []geometry.Path) {
	const slack = 1e-9 // pixels: rounding
	onLine := func(p geometry.Path) bool { return p.OnLine(slack) }
	if !slices.ContainsFunc(paths, onLine) {
		return fill, paths
	}
	wide := slices.DeleteFunc(slices.Clone(paths), onLine)
	if len(wide) == 0 {
		return nil, paths
	}
	return fill, wide
}
