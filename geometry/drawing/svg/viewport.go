package svg

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// fit says how a view box lies in its viewport: SVG 2, The preserveAspectRatio
// attribute.
type fit struct {
	x, y           float64 // 0, ½ or 1: where spare room goes
	stretch, slice bool
}

// parseFit reads a preserveAspectRatio; what cannot be read is xMidYMid meet.
func parseFit(s string) fit {
	middle := fit{x: 0.5, y: 0.5}
	words := strings.Fields(s)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	if len(words) == 0 {
		return middle
	}
	f := fit{slice: len(words) > 1 && words[1] == "slice"}
	if words[0] == "none" {
		return fit{stretch: true}
	}
	share := map[string]float64{"Min": 0, "Mid": 0.5, "Max": 1}
	if a := words[0]; len(a) == 8 && a[0] == 'x' && a[4] == 'Y' {
		x, okX := share[a[1:4]]
		y, okY := share[a[5:8]]
		if okX && okY {
			f.x, f.y = x, y
			return f
		}
	}
	return middle
}

// into returns the map from the view box to a viewport of w by h at the origin.
func (f fit) into(box geometry.Box, w, h float64) geometry.Affine {
	sx, sy := w/box.Width(), h/box.Height()
	switch {
	case f.stretch:
	case f.slice:
		sx = math.Max(sx, sy)
		sy = sx
	default:
		sx = math.Min(sx, sy)
		sy = sx
	}
	m := geometry.Translate(-box.Min.X, -box.Min.Y).Then(geometry.Scale(sx, sy))
	return m.Then(geometry.Translate(f.x*(w-sx*box.Width()), f.y*(h-sy*box.Height())))
}

// viewBox returns the view box of e. One with a side that is not positive
// counts as none.
func viewBox(b *budget.Budget, e *element) (geometry.Box, bool) {
	v, whole := numbers(b, e.get("viewBox"))
	if !whole || len(v) != 4 || !(v[2] > 0) || !(v[3] > 0) {
		return geometry.Box{}, false
	}
	return geometry.BoxAround(geometry.Pt(v[0], v[1]), geometry.Pt(v[0]+v[2], v[1]+v[3])), true
}

// drawRoot sets up the outermost viewport and draws what is in it.
func (r *reader) drawRoot() {
	root := r.doc.root
	at := spot{ctm: geometry.Identity, style: initial(), m: measure{rootFont: 16, font: 16, unknown: &r.unknown}}
	in, o := r.styleOf(root, at.style, at.m)
	at.style = in
	at.m.font, at.m.rootFont = in.font, in.font
	box, boxed := viewBox(r.b, root)
	w, h, known := r.rootSize(&o, box, boxed, at.m)
	at.m.view = viewport{w, h, known}
	at.m.root = at.m.view
	if boxed {
		at.ctm = parseFit(root.get("preserveAspectRatio")).into(box, w, h)
		at.m.view = viewport{box.Width(), box.Height(), true}
	}
	r.rootScale = at.ctm.MeanScale()
	if r.rootScale != 1 {
		r.out.Unit.PerNumber = r.rootScale
	}
	r.enterRoot(root, &o, at)
}

// rootSize settles the size of the outermost viewport in pixels and with it
// the page and the line that y is turned about. A side that is missing follows
// from the view box; where there is none either, percentages take the 300 by
// 150 of CSS 2.2, section 10.3.2, and known is false.
func (r *reader) rootSize(o *own, box geometry.Box, boxed bool, m measure) (w, h float64, known bool) {
	w, okW := r.rootSide(o, pWidth, m)
	h, okH := r.rootSide(o, pHeight, m)
	if boxed {
		switch {
		case okW && !okH:
			h = w * box.Height() / box.Width()
		case okH && !okW:
			w = h * box.Width() / box.Height()
		case !okW && !okH:
			w, h = box.Width(), box.Height()
		}
		okW, okH = true, true
	}
	r.flip = geometry.Affine{A: 1, D: -1, F: h}
	if okW && okH {
		r.out.Page = &geometry.Box{Max: geometry.Pt(w, h)}
		return w, h, true
	}
	if !okW {
		w = 300
	}
	if !okH {
		h = 150
	}
	return w, h, false
}

func (r *reader) enterRoot(root *element, o *own, at spot) {
	if o.transform != nil {
		r.notes.Add(drawing.ValueUnreadable, "transform on the outermost svg", place(root, "", geometry.EmptyBox()))
	}
	at.gone = o.gone
	at.clear = o.opacity == 0
	at.open = &opened{element: root}
	r.children(root, at)
}

// rootSide returns the width or height of the file in pixels and notes what
// the file says of its unit. Percentages of nothing count as missing.
func (r *reader) rootSide(o *own, p property, m measure) (float64, bool) {
	text := strings.TrimSpace(o.value(p))
	name := map[property]string{pWidth: "width", pHeight: "height"}[p]
	l, ok := parseLength(text)
	if !ok || l.unit == "%" || strings.HasPrefix(l.unit, "v") || !(l.value > 0) {
		if r.out.Unit.Source == "" {
			r.out.Unit.Source = "no " + name
		}
		return 0, false
	}
	if u := &r.out.Unit; !u.Declared && (u.Source == "" || l.physical()) {
		u.Source = fmt.Sprintf("%s=%q", name, text)
	}
	r.out.Unit.Declared = r.out.Unit.Declared || l.physical()
	return m.px(l, across), true
}

// window sets up the viewport of an svg or symbol element inside the file.
// The use element that brought it in, if any, may give it another size.
func (r *reader) window(e *element, o *own, size *own, at spot) (spot, bool) {
	side := func(p property, a axis) float64 {
		text := o.value(p)
		if size != nil && size.value(p) != "" && size.value(p) != "auto" {
			text = size.value(p)
		}
		if l, ok := parseLength(text); ok {
			return at.m.px(l, a)
		}
		return at.m.px(length{100, "%"}, a)
	}
	w, h := side(pWidth, across), side(pHeight, along)
	if e.name == "svg" {
		x, y := r.coordinate(e, o, pX, across, at), r.coordinate(e, o, pY, along, at)
		at.ctm = geometry.Translate(x, y).Then(at.ctm)
	}
	if !(w > 0 && h > 0) {
		return at, false // a side of zero draws nothing: SVG 2, section 7.6
	}
	if o.overflow != "visible" && o.overflow != "auto" {
		frame := geometry.Box{Max: geometry.Pt(w, h)}.Path()
		at.clips = r.clipTo(at.clips, e, []drawing.Region{{Paths: []geometry.Path{frame.Transform(at.ctm.Then(r.flip))}, FillRule: drawing.NonZero}})
	}
	at.m.view = viewport{w, h, true}
	if box, ok := viewBox(r.b, e); ok {
		at.ctm = parseFit(e.get("preserveAspectRatio")).into(box, w, h).Then(at.ctm)
		at.m.view = viewport{box.Width(), box.Height(), true}
	}
	return at, true
}

// coordinate returns a geometry property in user units, 0 where it is not set.
func (r *reader) coordinate(e *element, o *own, p property, a axis, at spot) float64 {
	v, _ := r.optional(e, o, p, a, at)
	return v
}

// optional returns a geometry property in user units and whether it is set.
// A value that cannot be read is noted and counts as not set.
func (r *reader) optional(e *element, o *own, p property, a axis, at spot) (float64, bool) {
	text := strings.TrimSpace(o.value(p))
	if text == "" || text == "auto" {
		return 0, false
	}
	l, ok := parseLength(text)
	if !ok {
		r.notes.Add(drawing.ValueUnreadable, text, place(e, at.layer.name, geometry.EmptyBox()))
		return 0, false
	}
	return at.m.px(l, a), true
}
