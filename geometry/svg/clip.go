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

// clipRegion is a clip as it is tested against shapes.
type clipRegion struct {
	regions []drawing.Region
	source  drawing.Source
	number  int // in drawing.Clips; -1 until a shape is cut by it
	corners []geometry.Point
}

// clipTo adds the inside of regions to the clips in force.
func (r *reader) clipTo(clips []int, e *element, regions []drawing.Region) []int {
	c := &clipRegion{regions: regions, source: e.source(), number: -1, corners: quad(regions)}
	r.regions = append(r.regions, c)
	return append(slices.Clip(clips), len(r.regions)-1)
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
			r.notes.add(finding.ClipPathUsed, e.source().String(), place(e, at.layer.name, geometry.Box{}))
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
		r.notes.add(finding.LiveText, "clipPath", place(e, at.layer.name, geometry.Box{}))
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

// quad returns the corners of a clip that is one parallelogram, nil for any
// other.
func quad(regions []drawing.Region) []geometry.Point {
	if len(regions) != 1 || len(regions[0].Paths) != 1 {
		return nil
	}
	p := regions[0].Paths[0]
	if len(p.Segments) != 4 || !p.Closed {
		return nil
	}
	var c []geometry.Point
	for _, s := range p.Segments {
		if s.Kind != geometry.Line {
			return nil
		}
		c = append(c, s.End)
	}
	size := c[0].Dist(c[2])
	if !p.Finite() || c[0].Add(c[2]).Dist(c[1].Add(c[3])) > 1e-9*size {
		return nil
	}
	return c
}

// cutting returns the numbers, in drawing.Clips, of those clips that may take
// something from a shape with the given box.
func (r *reader) cutting(clips []int, box geometry.Box) []int {
	var cut []int
	for _, i := range clips {
		c := r.regions[i]
		if c.corners != nil && holds(c.corners, box) {
			continue // such as the frame of the page, which cuts nothing
		}
		if c.number < 0 {
			c.number = len(r.out.Clips)
			r.out.Clips = append(r.out.Clips, drawing.Clip{Regions: c.regions, Source: c.source})
		}
		cut = append(cut, c.number)
	}
	if slices.Equal(cut, r.lastCut) {
		return r.lastCut // shapes of one group share the list
	}
	r.lastCut = cut
	return cut
}

// holds reports whether the convex quadrilateral holds box, to within a
// billionth of its size.
func holds(corners []geometry.Point, box geometry.Box) bool {
	for _, q := range box.Corners() {
		var left, right bool
		for i, a := range corners {
			edge := corners[(i+1)%4].Sub(a)
			side := edge.Cross(q.Sub(a))
			slack := 1e-9 * edge.Dot(edge)
			left = left || side > slack
			right = right || side < -slack
		}
		if left && right {
			return false
		}
	}
	return true
}
