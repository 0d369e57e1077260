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
//
// The closed contours are looked through in shelves of like area, the smallest
// first, so that of many that lie in each other only a few are met.
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
	var shelves []shelf
	size := 4 * int(math.Ceil(math.Sqrt(float64(len(closed)))))
	for lo := 0; lo < len(closed); lo += size {
		shelves = append(shelves, newShelf(b, cs, closed[lo:min(len(closed), lo+size)]))
	}
	holders := make([]int, len(cs))
	for i := range cs {
		holders[i] = -1
		for k := 0; k < len(shelves) && holders[i] < 0; k++ {
			holders[i] = shelves[k].holder(b, cs, &cs[i])
		}
	}
	return holders
}

// shelf is some closed contours, the smallest first, and the tree of their boxes.
type shelf struct {
	members []int
	largest float64 // area
	tree    *near.Tree
}

func newShelf(b *budget.Budget, cs []Contour, members []int) shelf {
	boxes := make([]geometry.Box, len(members))
	for k, i := range members {
		boxes[k] = cs[i].box
	}
	return shelf{members, cs[members[len(members)-1]].area, near.NewTree(b, boxes)}
}

// holder returns the first of the shelf's contours that holds c, -1 where none
// does.
func (s shelf) holder(b *budget.Budget, cs []Contour, c *Contour) int {
	b.Step()
	if s.largest <= c.area {
		return -1
	}
	p := c.inside()
	first := len(s.members)
	s.tree.Each(b, geometry.BoxAround(p), func(k int) bool {
		if k < first && c.within(b, &cs[s.members[k]], p) {
			first = k
		}
		return true
	})
	if first == len(s.members) {
		return -1
	}
	return s.members[first]
}

// within reports whether the closed contour o holds c, of which p is a point.
func (c Contour) within(b *budget.Budget, o *Contour, p geometry.Point) bool {
	if o.area <= c.area || !o.box.ContainsBox(c.box) {
		return false
	}
	b.Spend(len(o.pts))
	return near.Inside(p, o.pts)
}
