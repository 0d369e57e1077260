package tour

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// contourChord is the chord tolerance, in mm, with which contours are compared.
const contourChord = 0.1

// Contour is a line of which it matters what it holds and what ends on it.
// Make it with NewContour.
type Contour struct {
	pts    []geometry.Point
	box    geometry.Box
	area   float64
	closed bool
}

// NewContour returns the contour that runs along a path.
func NewContour(b *budget.Budget, path geometry.Path) Contour {
	b.Spend(1 + len(path.Segments))
	c := Contour{pts: path.Flatten(contourChord), closed: path.Closed}
	b.Spend(len(c.pts))
	c.box = geometry.BoxAround(c.pts...)
	if path.Closed {
		c.area = math.Abs(path.Area())
	}
	return c
}

// Area is what the contour encloses, in mm²; 0 for an open one.
func (c Contour) Area() float64 { return c.area }

// inside returns a point of the line that tells what holds it: the middle of
// its middle chord, which is not an end that may touch another line.
func (c Contour) inside() geometry.Point {
	if len(c.pts) < 2 {
		return c.pts[0]
	}
	i := len(c.pts) / 2
	return c.pts[i-1].Lerp(c.pts[i], 0.5)
}

// Holders returns for every contour the number of the smallest closed one that
// holds it, -1 where none does.
func Holders(b *budget.Budget, cs []Contour) []int {
	var closed []int // the smallest first
	for i := range cs {
		if cs[i].closed {
			closed = append(closed, i)
		}
	}
	slices.SortStableFunc(closed, func(i, j int) int {
		b.Step()
		return cmp.Compare(cs[i].area, cs[j].area)
	})
	boxes := make([]geometry.Box, len(closed))
	for k, i := range closed {
		boxes[k] = cs[i].box
	}
	tree := near.NewTree(b, boxes)
	holders := make([]int, len(cs))
	for i := range cs {
		holders[i] = cs[i].holder(b, cs, closed, tree)
	}
	return holders
}

// holder returns the first of the closed contours that holds c, -1 where none
// does. The tree is that of their boxes.
func (c Contour) holder(b *budget.Budget, cs []Contour, closed []int, tree *near.Tree) int {
	p := c.inside()
	first := len(closed)
	tree.Each(b, geometry.BoxAround(p), func(k int) bool {
		if k < first && c.within(b, &cs[closed[k]], p) {
			first = k
		}
		return true
	})
	if first == len(closed) {
		return -1
	}
	return closed[first]
}

// within reports whether the closed contour o holds c, of which p is a point.
func (c Contour) within(b *budget.Budget, o *Contour, p geometry.Point) bool {
	if o.area <= c.area || !o.box.ContainsBox(c.box) {
		return false
	}
	b.Spend(len(o.pts))
	return near.Inside(p, o.pts)
}

// Touches reports whether p lies on the line to within a distance in mm.
func (c Contour) Touches(b *budget.Budget, p geometry.Point, within float64) bool {
	b.Step()
	if !c.box.Grow(within).Contains(p) {
		return false
	}
	b.Spend(len(c.pts))
	return c.distance(p) <= within
}

// distance returns how far p is from the line.
func (c Contour) distance(p geometry.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(c.pts); i++ {
		a, d := c.pts[i-1], c.pts[i].Sub(c.pts[i-1])
		t := 0.0
		if n := d.Dot(d); n > 0 {
			t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
		}
		best = math.Min(best, p.Dist(a.Add(d.Mul(t))))
	}
	return best
}
