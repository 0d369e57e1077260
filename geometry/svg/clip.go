package svg

import (
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/finding"
)

// clipKey names one use of a clip path: the same one in the same place is
// kept once.
type clipKey struct {
	element *element
	ctm     geometry.Affine
	bounds  geometry.Box // of the clipped shape, where the units are its box
}

// clipTo adds the inside of regions to the clips in force.
func (r *reader) clipTo(clips []int, e *element, regions []drawing.Region) []int {
	return append(slices.Clip(clips), r.regions.Add(drawing.Clip{Regions: regions, Source: e.source()}))
}

// clipBy adds the clip path with the given id, used on e.
func (r *reader) clipBy(id string, e *element, outline []geometry.Path, at spot) []int {
	c := r.doc.byID[id]
	if c == nil || c.name != "clipPath" {
		return at.clips // a reference to nothing is no clip: CSS Masking 1, section 5.1
	}
	key := clipKey{element: c, ctm: at.ctm}
	if c.get("clipPathUnits") == "objectBoundingBox" {
		key.bounds = boundsOf(outline)
		if len(outline) == 0 {
			r.notes.Add(finding.ClipPathUsed, e.source().String(), place(e, at.layer.name, geometry.EmptyBox()))
			return at.clips // the box of a group is not known before it is drawn
		}
	}
	if known, seen := r.clips[key]; seen {
		return append(slices.Clip(at.clips), known)
	}
	clips := r.clipTo(at.clips, c, r.clipRegions(c, key, at))
	r.clips[key] = clips[len(clips)-1]
	return clips
}

// clipRegions returns the insides of the children of a clip path.
func (r *reader) clipRegions(c *element, key clipKey, at spot) []drawing.Region {
	in, o := r.styleOf(c, initial(), at.m)
	at.style = in
	if key.bounds != (geometry.Box{}) {
		b := key.bounds
		at.ctm = geometry.Scale(b.Width(), b.Height()).Then(geometry.Translate(b.Min.X, b.Min.Y)).Then(at.ctm)
		at.m.view = viewport{1, 1, true}
	}
	at.ctm = r.transform(c, &o, nil, at).Then(at.ctm)
	regions := []drawing.Region{}
	for _, child := range c.children {
		if region, ok := r.clipChild(child, at); ok && !r.stopped {
			regions = append(regions, region)
		}
	}
	return regions
}

// clipChild returns the inside of one child, which may stand elsewhere in the
// file and be brought in by use.
func (r *reader) clipChild(e *element, at spot) (drawing.Region, bool) {
	in, o := r.styleOf(e, at.style, at.m)
	at.style = in
	if o.gone || in.hidden {
		return drawing.Region{}, false
	}
	if e.name == "text" {
		r.notes.Add(finding.LiveText, "clipPath", place(e, at.layer.name, geometry.EmptyBox()))
		return drawing.Region{}, false
	}
	if e.name == "use" {
		at.ctm = r.transform(e, &o, nil, at).Then(at.ctm)
		at.ctm = geometry.Translate(r.coordinate(e, &o, pX, across, at), r.coordinate(e, &o, pY, along, at)).Then(at.ctm)
		id, _ := strings.CutPrefix(e.href(), "#")
		if e = r.doc.byID[id]; e == nil || !shapes[e.name] {
			return drawing.Region{}, false
		}
		at.style, o = r.styleOf(e, at.style, at.m)
	}
	outline := r.outline(e, &o, at)
	at.ctm = r.transform(e, &o, outline, at).Then(at.ctm)
	paths := r.placed(outline, at.ctm.Then(r.flip))
	return drawing.Region{Paths: paths, FillRule: at.style.clipRule}, len(paths) > 0
}
