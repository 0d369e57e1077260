package svg

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry"
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

// viewBox returns the view box of e. One that makes no sense, as with a side
// that is not positive, is noted and counts as none.
func (r *reader) viewBox(e *element) (geometry.Box, bool) {
	text := e.get("viewBox")
	if text == "" {
		return geometry.Box{}, false
	}
	v, whole := numbers(r.b, text)
	if !whole || len(v) != 4 || !side(v[2]) || !side(v[3]) || math.Abs(v[0]) > maxSide || math.Abs(v[1]) > maxSide {
		r.notes.Add(drawing.ValueUnreadable, fmt.Sprintf("viewBox=%q", text), place(e, "", geometry.EmptyBox()))
		return geometry.Box{}, false
	}
	return geometry.BoxAround(geometry.Pt(v[0], v[1]), geometry.Pt(v[0]+v[2], v[1]+v[3])), true
}

// maxSide bounds the numbers of a view box, in its own unit.
const maxSide = 1e12

// side reports whether a side of a view box is that of some drawing.
func side(v float64) bool { return v >= 1/maxSide && v <= maxSide }

// drawRoot sets up the outermost viewport and draws what is in it.
func (r *reader) drawRoot() {
	root := r.doc.root
	at := spot{ctm: geometry.Identity, style: initial(), m: measure{rootFont: 16, font: 16, unknown: &r.unknown}}
	in, o := r.cascade.styleOf(root, at.style, at.m)
	at.style = in
	at.m.font, at.m.rootFont = in.font, in.font
	box, boxed := r.viewBox(root)
	w, h, known := r.canvas.rootSize(&o, box, boxed, at.m)
	at.m.view = viewport{w, h, known}
	at.m.root = at.m.view
	if boxed {
		at.ctm = parseFit(root.get("preserveAspectRatio")).into(box, w, h)
		at.m.view = viewport{box.Width(), box.Height(), true}
	}
	r.canvas.rootScale = at.ctm.MeanScale()
	if r.canvas.rootScale != 1 {
		r.canvas.out.Unit.PerNumber = r.canvas.rootScale
	}
	if !r.turnRoot(&o, &at) {
		r.notes.Add(drawing.ValueUnreadable, "transform on the outermost svg", place(root, "", geometry.EmptyBox()))
	}
	r.enterRoot(root, &o, at)
}

// turnRoot turns, shifts or flips the file as a whole, about the middle of the page
// where no origin is given (SVG 2, section 6.6: the origin is 0 0 for all elements
// but the outermost svg). It reports false where it cannot: programs do not agree on
// what a scale there does, so lengths are then those of the file without it.
func (r *reader) turnRoot(o *own, at *spot) bool {
	if o.offset || o.transform == nil && !o.moved() {
		return !o.offset
	}
	m := at.m
	m.view = m.root
	f, fault := o.transforms(r.b, m)
	if fault != "" || !rigid(f.Affine) {
		return false
	}
	page := geometry.Box{Max: geometry.Pt(m.root.w, m.root.h)}
	origin, ok := page.Centre(), true
	if o.origin != "" {
		origin, ok = parseOrigin(o.origin, page, m)
	}
	outer := spot{ctm: geometry.Identity}
	outer.place(f.about(origin))
	at.ctm, at.flipped = at.ctm.Then(outer.ctm), outer.flipped
	return ok
}

// rigid reports whether a map keeps all lengths, but for the digits with which programs
// write a sine.
func rigid(m geometry.Affine) bool {
	const slack = 1e-5
	u, v := geometry.Pt(m.A, m.B), geometry.Pt(m.C, m.D)
	return math.Abs(u.Norm()-1) <= slack && math.Abs(v.Norm()-1) <= slack && math.Abs(u.Dot(v)) <= slack
}

func (r *reader) enterRoot(root *element, o *own, at spot) {
	at.gone = o.gone
	at.clear = o.opacity == 0
	at.open = &opened{element: root}
	r.children(root, at)
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
		f := r.figure(e, o, &at)
		x, y := f.coordinate(pX, across), f.coordinate(pY, along)
		at.ctm = geometry.Translate(x, y).Then(at.ctm)
	}
	if !(w > 0 && h > 0) {
		return at, false // a side of zero draws nothing: SVG 2, section 7.6
	}
	if o.overflow != "visible" && o.overflow != "auto" {
		frame := geometry.Box{Max: geometry.Pt(w, h)}.Path()
		at.clips = r.addClip(at.clips, e, []drawing.Region{{Paths: []geometry.Path{frame.Transform(at.ctm.Then(r.canvas.flip))}, FillRule: drawing.NonZero}})
	}
	at.m.view = viewport{w, h, true}
	if box, ok := r.viewBox(e); ok {
		at.ctm = parseFit(e.get("preserveAspectRatio")).into(box, w, h).Then(at.ctm)
		at.m.view = viewport{box.Width(), box.Height(), true}
	}
	return at, true
}
