package svg

import (
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// clipKey names one use of a clip path: the same one in the same place is
// kept once.
type clipKey struct {
	element *element
	ctm     geometry.Affine
	bounds  geometry.Box // of the clipped shape, where the units are its box
}

// clipStore keeps the clips of a drawing.
type clipStore struct {
	known   map[clipKey][]int // in regions
	regions drawing.ClipSet
}

// add adds the inside of regions to the clips in force.
func (s *clipStore) add(clips []int, e *element, regions []drawing.Region) []int {
	return append(slices.Clip(clips), s.regions.Add(drawing.Clip{Regions: regions, Source: e.source()}))
}

// addClip adds the inside of regions to the clips in force. One that reaches
// beyond all numbers is noted and clips nothing.
func (r *reader) addClip(clips []int, e *element, regions []drawing.Region) []int {
	regions, ok := drawing.Windowed(regions, farthest)
	if !ok {
		r.notes.Add(drawing.OutOfRange, e.name, place(e, "", drawing.Reach(regions[0].Paths, farthest)))
		return clips
	}
	return r.clips.add(clips, e, regions)
}

// clipBy adds the clip path with the given id, used on e, and those that clip
// the clip path itself. outline is that of a shape.
func (r *reader) clipBy(id string, e *element, o *own, outline []geometry.Path, at spot) []int {
	c := r.doc.byID[id]
	if c == nil || c.name != "clipPath" || at.open.holds(c) {
		return at.clips // a reference to nothing is no clip: CSS Masking 1, section 5.1
	}
	if at.depth++; at.depth > r.quota.limits.Depth {
		r.quota.stop(limitDepth, r.quota.limits.Depth)
		return at.clips
	}
	key := clipKey{element: c, ctm: at.ctm}
	inBox := c.get("clipPathUnits") == "objectBoundingBox"
	switch {
	case inBox && e.name == "clipPath": // it would be the box of the clipped shape
		r.notes.Add(drawing.ValueUnreadable, "clip-path of clipPath", place(e, at.layer.name, geometry.EmptyBox()))
		return at.clips
	case inBox:
		if key.bounds = r.boxOf(e, o, outline, at); key.bounds.Empty() {
			return at.clips // there is nothing to clip
		}
	}
	known, seen := r.clips.known[key]
	if !seen {
		known = r.newClips(key, at)
		r.clips.known[key] = known
	}
	return append(slices.Clip(at.clips), known...)
}

// newClips returns the clip that is the clip path of key, after those that cut
// it.
func (r *reader) newClips(key clipKey, at spot) []int {
	c, b := key.element, key.bounds
	at.clips, at.open = nil, &opened{c, at.open}
	in, o := r.cascade.styleOf(c, initial(), at.m)
	at.style = in
	if o.clipPath != "" { // a transform of c moves what c holds, not this clip
		at.clips = r.clipBy(o.clipPath, c, &o, nil, at)
	}
	at.place(r.transform(c, &o, nil, at))
	if b != (geometry.Box{}) {
		at.ctm = geometry.Scale(b.Width(), b.Height()).Then(geometry.Translate(b.Min.X, b.Min.Y)).Then(at.ctm)
		at.m.view = viewport{1, 1, true}
	}
	regions, clips := r.clipRegions(c, at)
	return r.addClip(clips, c, regions)
}

// clipRegions returns the insides of the children of a clip path, and the
// clips in force. A child that is clipped itself adds to these where it is the
// only one; among others its clip cannot be told and is noted.
func (r *reader) clipRegions(c *element, at spot) ([]drawing.Region, []int) {
	regions := []drawing.Region{}
	clips := at.clips
	clipped := false
	for _, child := range c.children {
		region, own, ok := r.clipChild(child, at)
		if !ok || r.quota.stopped {
			continue
		}
		regions = append(regions, region)
		if len(own) > len(at.clips) {
			clips, clipped = own, true
		}
	}
	if clipped && len(regions) > 1 {
		r.notes.Add(drawing.ValueUnreadable, "clip-path in clipPath", place(c, at.layer.name, geometry.EmptyBox()))
		clips = at.clips
	}
	return regions, clips
}

// clipChild returns the inside of one child, which may stand elsewhere in the
// file and be brought in by use, and the clips that cut it.
func (r *reader) clipChild(e *element, at spot) (inside drawing.Region, clips []int, ok bool) {
	in, o := r.cascade.styleOf(e, at.style, at.m)
	at.style = in
	if o.gone || in.hidden {
		return drawing.Region{}, nil, false
	}
	if e.name == "text" {
		r.notes.Add(drawing.LiveText, "clipPath", place(e, at.layer.name, geometry.EmptyBox()))
		return drawing.Region{}, nil, false
	}
	if e.name == "use" {
		at.place(r.transform(e, &o, nil, at))
		if o.clipPath != "" {
			at.clips = r.clipBy(o.clipPath, e, &o, nil, at)
		}
		f := r.figure(e, &o, &at)
		at.ctm = geometry.Translate(f.coordinate(pX, across), f.coordinate(pY, along)).Then(at.ctm)
		id, _ := strings.CutPrefix(e.href(), "#")
		if e = r.doc.byID[id]; e == nil || !isShape(e.name) {
			return drawing.Region{}, nil, false
		}
		at.style, o = r.cascade.styleOf(e, at.style, at.m)
	}
	outline := r.figure(e, &o, &at).outline()
	at.place(r.transform(e, &o, outline, at))
	if o.clipPath != "" {
		at.clips = r.clipBy(o.clipPath, e, &o, outline, at)
	}
	paths := r.placed(outline, at.ctm.Then(r.canvas.flip))
	return drawing.Region{Paths: paths, FillRule: at.style.clipRule}, at.clips, len(paths) > 0
}
