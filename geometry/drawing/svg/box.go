package svg

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// boxOf returns the object bounding box of e in its own user units: SVG 2,
// Object bounding box units. outline is that of a shape.
func (r *reader) boxOf(e *element, o *own, outline []geometry.Path, at spot) geometry.Box {
	if holds(e.name) {
		return r.contentBox(e, o, at)
	}
	return boundsOf(r.b, outline)
}

// holds reports whether elements of that name hold others that are drawn.
func holds(name string) bool {
	switch name {
	case "g", "a", "svg", "use", "switch":
		return true
	}
	return false
}

// contentBox draws what e holds on a sheet of its own to see how far it
// reaches: hidden and unpainted shapes count, clips do not. Each element is
// drawn so but once, and counts as drawn by reference. The copy of the reader
// shares what it only looks up; what it notes, makes and counts is its own.
func (r *reader) contentBox(e *element, o *own, at spot) geometry.Box {
	if box, known := r.boxes[e]; known {
		return box
	}
	r.boxes[e] = geometry.EmptyBox()
	dry := *r
	dry.notes = &drawing.Notes{}
	dry.quota.notes = dry.notes
	dry.painter.notes = dry.notes
	dry.canvas = canvas{
		notes: dry.notes, out: &drawing.Drawing{Kinds: map[string]int{}}, layers: map[string]int{},
		flip: geometry.Identity, rootScale: r.canvas.rootScale,
	}
	dry.clips = clipStore{known: map[clipKey][]int{}}
	dry.opt.KeepHidden = true
	at.ctm, at.clips, at.used = geometry.Identity, nil, true
	switch e.name {
	case "use":
		dry.use(e, o, at)
	case "switch":
		dry.choose(e, at)
	default:
		dry.children(e, at)
	}
	r.quota.uses, r.quota.repeats, r.quota.segments = dry.quota.uses, dry.quota.repeats, dry.quota.segments
	if over := dry.quota.over; over != nil {
		r.quota.stop(over.name, over.allowed)
	}
	r.boxes[e] = dry.canvas.out.Bounds()
	return r.boxes[e]
}

func boundsOf(b *budget.Budget, paths []geometry.Path) geometry.Box {
	box := geometry.EmptyBox()
	for _, p := range paths {
		b.Spend(1 + len(p.Segments))
		box = box.Union(p.Bounds())
	}
	return box
}
