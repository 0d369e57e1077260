package tour

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// Chords are the chords of contours, to find those that pass a place. Make
// them with NewChords.
type Chords struct {
	ends  [][2]geometry.Point
	owner []int // contour of each chord
	tree  *near.Tree
}

// NewChords returns the chords of the contours. It takes O(n log n) steps for n
// chords.
func NewChords(b *budget.Budget, cs []Contour) *Chords {
	c := &Chords{}
	var boxes []geometry.Box
	for i := range cs {
		b.Spend(1 + len(cs[i].pts))
		for k := 1; k < len(cs[i].pts); k++ {
			p, q := cs[i].pts[k-1], cs[i].pts[k]
			c.ends, c.owner = append(c.ends, [2]geometry.Point{p, q}), append(c.owner, i)
			boxes = append(boxes, geometry.BoxAround(p, q))
		}
	}
	c.tree = near.NewTree(b, boxes)
	return c
}

// Touching returns the numbers of the contours on which p lies to within a
// distance in mm, in ascending order.
func (c *Chords) Touching(b *budget.Budget, p geometry.Point, within float64) []int {
	var on []int
	c.tree.Each(b, geometry.BoxAround(p).Grow(within), func(k int) bool {
		if p.DistToSegment(c.ends[k][0], c.ends[k][1]) <= within {
			on = append(on, c.owner[k])
		}
		return true
	})
	slices.Sort(on)
	return slices.Compact(on)
}
