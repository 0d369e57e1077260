package weeding

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/disjoint"
	"knifedesk/jobs/artwork"
)

// Apart is a part of what a map keeps that can be cut without the rest: kept regions that
// no line joins to others.
type Apart struct {
	Regions []int // by number, from 1, in their order
	Strokes []int // of the map, by index, in their order
}

const (
	beside   = 0.03 // how far beside a line, in mm, one looks what it bounds
	lookStep = 1.0  // how far apart, in mm, one looks along it
)

// Apart parts what the map keeps: regions that a line bounds or crosses in common belong
// together, as both would lack it. Lines that lie in nothing that is kept are of no part,
// nor are weed borders and relief lines. The parts are in the order of their first region.
func (m *Map) Apart(b *budget.Budget) []Apart {
	owner := newOwners(b, m)
	touched := make([][]int, len(m.Strokes))
	for i := range m.Strokes {
		s := &m.Strokes[i]
		if s.Added == artwork.Border || s.Added == artwork.Relief {
			continue
		}
		touched[i] = owner.of(b, s.Path)
		for _, k := range touched[i] {
			owner.groups.Join(touched[i][0], k)
		}
	}
	return owner.parts(touched)
}

// parts gathers the regions that belong together, and the lines that touch them.
func (o *owners) parts(touched [][]int) (all []Apart) {
	at := map[int]int{}
	for k := range o.kept {
		root := o.groups.Find(k)
		if _, ok := at[root]; !ok {
			at[root] = len(all)
			all = append(all, Apart{})
		}
		one := &all[at[root]]
		one.Regions = append(one.Regions, o.kept[k].number)
	}
	for i, t := range touched {
		if len(t) > 0 {
			one := &all[at[o.groups.Find(t[0])]]
			one.Strokes = append(one.Strokes, i)
		}
	}
	return all
}

// Alone maps one of the parts of m by itself, with a weed border, relief lines and steps
// of its own as the request for m has it. Nothing is found or asked that m did not tell
// already. The error is one of planar.Arrange.
func (m *Map) Alone(b *budget.Budget, part Apart, req Request) (*Map, error) {
	only := *m
	only.Regions = slices.DeleteFunc(slices.Clone(m.Regions), func(r Region) bool { return !slices.Contains(part.Regions, r.Number) })
	strokes := make([]artwork.Stroke, len(part.Strokes))
	for i, at := range part.Strokes {
		strokes[i] = m.Strokes[at]
	}
	return m.Part(b, only.Keeps(b), strokes, req)
}

// owners are the kept regions, joined by the lines that they have in common.
type owners struct {
	kept   []ownedRegion
	groups disjoint.Sets // of regions, each the first of them
}

type ownedRegion struct {
	number int
	box    geometry.Box
	inside *clearance.Region
}

func newOwners(b *budget.Budget, m *Map) *owners {
	o := &owners{}
	for i := range m.Regions {
		r := &m.Regions[i]
		if !r.Kept() {
			continue
		}
		var rings [][]geometry.Point
		for _, ring := range append([]geometry.Path{r.Outer}, r.Holes...) {
			rings = append(rings, ring.FlattenIn(b, geometry.DefaultChord))
		}
		o.groups = append(o.groups, len(o.kept))
		o.kept = append(o.kept, ownedRegion{r.Number, r.Outer.Bounds().Grow(beside), clearance.NewRegion(b, rings...)})
	}
	return o
}

// of lists the regions that a line bounds, or in which it lies, by their place.
func (o *owners) of(b *budget.Budget, p geometry.Path) (found []int) {
	var near []int
	box := p.Bounds()
	for k := range o.kept {
		b.Step()
		if o.kept[k].box.Overlaps(box) {
			near = append(near, k)
		}
	}
	if len(near) == 0 {
		return nil
	}
	points := p.FlattenIn(b, geometry.DefaultChord)
	for i := 1; i < len(points); i++ {
		found = o.along(b, points[i-1], points[i], near, found)
	}
	return found
}

// along adds the regions that lie beside a straight line.
func (o *owners) along(b *budget.Budget, from, to geometry.Point, near, found []int) []int {
	long := from.Dist(to)
	if long == 0 {
		return found
	}
	way := to.Sub(from)
	aside := geometry.Pt(-way.Y/long*beside, way.X/long*beside)
	n := int(math.Ceil(long / lookStep))
	for j := range n {
		at := from.Lerp(to, (float64(j)+0.5)/float64(n))
		for _, k := range near {
			b.Step()
			if !slices.Contains(found, k) && (o.kept[k].inside.Inside(b, at.Add(aside)) || o.kept[k].inside.Inside(b, at.Sub(aside))) {
				found = append(found, k)
			}
		}
	}
	return found
}
