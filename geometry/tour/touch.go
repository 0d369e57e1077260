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

// OnOther returns a chord that passes within a distance in mm of p and is not of one of the
// contours, −1 where there is none. It looks at the chord last, which may be −1, and those
// beside it first: where thousands of lines meet in one point, whose boxes all hold it, the
// answer for the end of one is mostly that for the next.
func (c *Chords) OnOther(b *budget.Budget, own int, p geometry.Point, within float64, last int) (chord int) {
	passes := func(k int) bool {
		return c.owner[k] != own && p.DistToSegment(c.ends[k][0], c.ends[k][1]) <= within
	}
	b.Spend(3)
	for k := max(0, last-1); last >= 0 && k <= last+1 && k < len(c.owner); k++ {
		if passes(k) {
			return k
		}
	}
	chord = -1
	c.tree.Each(b, geometry.BoxAround(p).Grow(within), func(k int) bool {
		if passes(k) {
			chord = k
		}
		return chord < 0
	})
	return chord
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
