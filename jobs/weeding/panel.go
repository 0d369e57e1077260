package weeding

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/jobs/artwork"
)

// Keeps tells which points of the artwork lie in what a map keeps.
type Keeps struct{ region *clearance.Region }

// Keeps returns the index of what the map keeps.
func (m *Map) Keeps(b *budget.Budget) Keeps {
	var rings [][]geometry.Point
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() {
			for _, ring := range append([]geometry.Path{r.Outer}, r.Holes...) {
				rings = append(rings, ring.FlattenIn(b, geometry.DefaultChord))
			}
		}
	}
	return Keeps{clearance.NewRegion(b, rings...)}
}

// At reports whether a point lies in what is kept.
func (k Keeps) At(b *budget.Budget, p geometry.Point) bool { return k.region.Inside(b, p) }

// Part maps a part of m, whose strokes are those of m as far as they lie in it, with
// what was cut through what is kept: a panel. What the part keeps is what m keeps
// there, and what its marks enclose; nothing is found or asked that m did not tell
// already. It gets a weed border, relief lines and steps of its own as the request for
// m has it. The error is one of planar.Arrange.
func (m *Map) Part(b *budget.Budget, keeps Keeps, strokes []artwork.Stroke, req Request) (*Map, error) {
	req.Turned = nil // they are turned over in m
	t := newTerms(b, req)
	a := arranged{terms: t, strokes: strokes}
	var err error
	if a.cells, err = arrange(b, strokes, t.chord); err != nil {
		return nil, err
	}
	r := reading{arranged: a, kept: make([]bool, len(a.cells.Faces))}
	for f := int32(1); f < int32(len(r.kept)); f++ {
		r.kept[f] = a.cells.marked(b, f) || keeps.At(b, a.cells.deepWithin(b, f))
	}
	w := bridged{reading: r}.number().split().measure().weigh()
	w.work.LeastHeightMM = m.Effort.LeastHeightMM // a letter that a seam parts is no lower for it
	w.work = t.times().Weigh(w.work, req.Novice)
	part := w.steps()
	part.Risk, part.Findings, part.Questions = m.Risk, nil, nil
	return part, nil
}

// PanelBorder is how far the weed border of a panel lies outside of it, in mm; 0: it has
// none.
func (r Request) PanelBorder() float64 {
	t := newTerms(nil, r)
	if !r.Border || !t.peeled() {
		return 0
	}
	return t.limits.BorderMM
}

// marked reports whether a face lies inside a mark.
func (c *cells) marked(b *budget.Budget, face int32) bool {
	for w := range c.round(b, face) {
		if isMark(c.strokes[w.stroke]) {
			return true
		}
	}
	return false
}

func isMark(s artwork.Stroke) bool { return s.Added == artwork.Mark }

// deepWithin returns a point of a bounded face farther inside it than two flattenings
// of a curve differ, where the face has room for that.
func (c *cells) deepWithin(b *budget.Budget, face int32) geometry.Point {
	for _, deeper := range [...]float64{0.2, 0.05, 0.02} {
		if p := c.inwards(b, face, deeper); c.FaceAt(b, p) == face {
			return p
		}
	}
	return c.within(b, face)
}
