package svg

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// boxOf returns the object bounding box of e in its own user units: SVG 2,
// Object bounding box units. outline is that of a shape.
func (r *reader) boxOf(e *element, o *own, outline []geometry.Path, at spot) geometry.Box {
	if holds(e.name) {
		return r.contentBox(e, o, at)
	}
	return r.boundsOf(outline)
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
// drawn so but once, and counts as drawn by reference.
func (r *reader) contentBox(e *element, o *own, at spot) geometry.Box {
	if box, known := r.boxes[e]; known {
		return box
	}
	r.boxes[e] = geometry.EmptyBox()
	dry := *r
	dry.notes, dry.out = &drawing.Notes{}, &drawing.Drawing{Kinds: map[string]int{}}
	dry.layers, dry.clips, dry.regions = map[string]int{}, map[clipKey][]int{}, drawing.ClipSet{}
	dry.flip, dry.opt.KeepHidden = geometry.Identity, true
	at.ctm, at.clips, at.used = geometry.Identity, nil, true
	switch e.name {
	case "use":
		dry.use(e, o, at)
	case "switch":
		dry.choose(e, at)
	default:
		dry.children(e, at)
	}
	r.uses, r.repeats, r.segments = dry.uses, dry.repeats, dry.segments
	if dry.over != nil {
		r.stop(dry.over.name, dry.over.allowed)
	}
	r.boxes[e] = dry.out.Bounds()
	return r.boxes[e]
}
