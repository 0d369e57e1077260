package svg

import (
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// spot is all that an element takes from what it lies in.
type spot struct {
	ctm    geometry.Affine // user units to pixels, y down
	style  inherited
	m      measure
	layer  label
	clips  []int // in clipStore.regions
	depth  int
	open   *opened
	gone   bool // display: none, here or above
	clear  bool // opacity 0, here or above
	masked bool
	shaded bool // a filter, here or above
	used   bool // drawn through a reference
	// flipped says that what turns the element over, if anything does, is a
	// plain turn of y.
	flipped bool
}

// opened lists the elements that are being drawn, innermost first, to find
// references that run in a circle.
type opened struct {
	*element
	up *opened
}

func (o *opened) holds(e *element) bool {
	for ; o != nil; o = o.up {
		if o.element == e {
			return true
		}
	}
	return false
}

func (r *reader) children(e *element, at spot) {
	for _, c := range e.children {
		if r.quota.stopped {
			return
		}
		r.draw(c, nil, at)
	}
}

// draw draws one element; size is the style of the use element that brought
// it in, nil for an element in its own place.
func (r *reader) draw(e *element, size *own, at spot) {
	if notDrawn(e.name) || e.name == "symbol" && size == nil || !r.applies(e) || !r.quota.spend(e, &at) {
		return
	}
	in, o := r.cascade.styleOf(e, at.style, at.m)
	at.style, at.m.font = in, in.font
	at.gone = at.gone || o.gone
	at.clear = at.clear || o.opacity == 0
	at.masked = at.masked || o.mask
	at.shaded = at.shaded || o.filter
	at.open = &opened{e, at.open}
	outline := r.figure(e, &o, &at).outline()
	at.place(r.transform(e, &o, outline, at))
	if o.clipShape {
		r.notes.Add(drawing.ValueUnreadable, "clip-path", place(e, at.layer.name, geometry.EmptyBox()))
	}
	if o.clipPath != "" {
		at.clips = r.clipBy(o.clipPath, e, &o, outline, at)
	}
	switch {
	case isShape(e.name):
		r.emit(e, &o, outline, at)
	case e.name == "use":
		r.use(e, &o, at)
	case e.name == "svg" || e.name == "symbol":
		r.canvas.label(e, &at)
		if inside, shown := r.window(e, &o, size, at); shown {
			r.children(e, inside)
		}
	case e.name == "g" || e.name == "a":
		r.canvas.label(e, &at)
		r.children(e, at)
	case e.name == "switch":
		r.choose(e, at)
	default:
		r.flag(e, &o, at)
	}
}

// notDrawn reports whether elements of that name are only drawn, if at all, by
// reference.
func notDrawn(name string) bool {
	switch name {
	case "defs", "clipPath", "mask", "marker", "pattern", "linearGradient", "radialGradient", "filter", "title",
		"desc", "metadata", "style", "script", "stop", "view", "cursor", "animate", "animateColor", "animateMotion",
		"animateTransform", "set", "discard", "mpath", "font", "font-face", "color-profile", "hatch", "mesh",
		"meshgradient", "solidcolor":
		return true
	}
	return false
}

// isShape reports whether elements of that name have an outline of their own.
func isShape(name string) bool {
	switch name {
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return true
	}
	return false
}

// applies evaluates the conditional attributes of e: SVG 2, Conditional
// processing.
func (r *reader) applies(e *element) bool {
	if ext, ok := e.attr("requiredExtensions"); ok && strings.TrimSpace(ext) != "" {
		return false
	}
	langs, ok := e.attr("systemLanguage")
	if !ok {
		return true
	}
	want := strings.ToLower(r.opt.Language)
	for tag := range strings.SplitSeq(strings.ToLower(langs), ",") {
		if tag = strings.TrimSpace(tag); tag == want || strings.HasPrefix(tag, want+"-") {
			return true
		}
	}
	return false
}

// choose draws the first child of a switch that applies.
func (r *reader) choose(e *element, at spot) {
	for _, c := range e.children {
		if !notDrawn(c.name) && r.applies(c) {
			r.draw(c, nil, at)
			return
		}
	}
}

// use draws the element that e refers to: SVG 2, The use element.
func (r *reader) use(e *element, o *own, at spot) {
	ref := e.href()
	id, local := strings.CutPrefix(ref, "#")
	target := r.doc.byID[id]
	if at.gone {
		return
	}
	f := r.figure(e, o, &at)
	x, y := f.coordinate(pX, across), f.coordinate(pY, along)
	here := place(e, at.layer.name, geometry.BoxAround(at.ctm.Then(r.canvas.flip).Apply(geometry.Pt(x, y))))
	switch {
	case ref == "" || local && target == nil:
		r.notes.Add(drawing.MissingReference, ref, here)
		return
	case !local:
		r.notes.Add(drawing.ExternalReference, ref, here)
		return
	case at.open.holds(target):
		r.notes.Add(drawing.CircularReference, ref, here)
		return
	}
	at.ctm = geometry.Translate(x, y).Then(at.ctm)
	at.used = true
	r.draw(target, o, at)
}

// transform returns the transform of e itself about its origin.
func (r *reader) transform(e *element, o *own, outline []geometry.Path, at spot) chain {
	if o.offset {
		r.notes.Add(drawing.ValueUnreadable, "offset-path", place(e, at.layer.name, geometry.EmptyBox()))
	}
	if o.transform == nil && !o.moved() {
		return unmoved()
	}
	box := geometry.Box{Max: geometry.Pt(at.m.view.w, at.m.view.h)} // view-box: CSS Transforms 1, section 6
	if o.box == "fill-box" || o.box == "content-box" || o.box == "stroke-box" || o.box == "border-box" {
		if box = r.boxOf(e, o, outline, at); box.Empty() {
			return unmoved() // there is nothing to move
		}
	}
	m := at.m
	m.view.w, m.view.h = box.Width(), box.Height()
	f, fault := o.transforms(r.b, m)
	if fault != "" {
		r.notes.Add(drawing.ValueUnreadable, fault, place(e, at.layer.name, geometry.EmptyBox()))
		return unmoved()
	}
	if o.origin == "" {
		return f.about(box.Min) // 0 0 of the box: CSS Transforms 1, section 7.1
	}
	origin, ok := parseOrigin(o.origin, box, at.m)
	if !ok {
		r.notes.Add(drawing.ValueUnreadable, o.origin, place(e, at.layer.name, geometry.EmptyBox()))
		return f
	}
	return f.about(origin)
}

// place sets the transform of an element before the one it lies in.
func (at *spot) place(f chain) {
	all := chain{at.ctm, at.flipped}
	all.put(f)
	at.ctm, at.flipped = all.Affine, all.plain
}

// flag notes what is drawn but has no outline to cut.
func (r *reader) flag(e *element, o *own, at spot) {
	if at.gone || at.clear || at.style.hidden {
		return
	}
	f := r.figure(e, o, &at)
	x, y := f.coordinate(pX, across), f.coordinate(pY, along)
	box := geometry.BoxAround(geometry.Pt(x, y))
	if e.name != "text" {
		box = box.Include(geometry.Pt(x+f.coordinate(pWidth, across), y+f.coordinate(pHeight, along)))
	}
	box = box.Path().Transform(at.ctm.Then(r.canvas.flip)).Bounds()
	code := drawing.UnknownElement
	switch e.name {
	case "text":
		if !e.hasWords(r.b) {
			return
		}
		code = drawing.LiveText
	case "image":
		code = drawing.RasterImage
	case "foreignObject":
		code = drawing.ForeignContent
	}
	if here := place(e, at.layer.name, box); code == drawing.LiveText {
		r.notes.AddOn(code, at.layer.name, e.name, here)
	} else {
		r.notes.Add(code, e.name, here)
	}
	if code == drawing.UnknownElement {
		at.gone = true
		r.children(e, at)
	}
}
