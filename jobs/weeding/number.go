package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// numbered are the regions of the map before relief lines split them.
type numbered struct {
	bridged
	base   []base       // in the order of their numbers, from 1
	bounds geometry.Box // of the artwork with its weed border
}

// base is a region before relief lines split it.
type base struct {
	face  int32
	rings [][]geometry.Point
	class Class
	ties  []artwork.Stroke
	parts []lump
	sides []planar.HalfEdge // where there are several parts: what the lumps count by
	stuck int               // parts longer than the hand that could not be split
}

// lump is a region, or one of the parts into which relief lines split it.
type lump struct {
	rings [][]geometry.Point
	// on says of each side of the ring of one of several parts which of the sides of the
	// base it runs along; clearance.NoSide: along a relief line.
	on []int32
}

// noHalfEdge stands for no half-edge of the map.
const noHalfEdge planar.HalfEdge = -1

// number numbers the regions, turns over those that a person named, and says
// what each of them is.
func (s bridged) number() numbered {
	n := numbered{bridged: s, bounds: s.extent()}
	faces := s.listed()
	for _, f := range faces {
		n.base = append(n.base, base{face: f, rings: s.cells.rings(s.budget, f)})
	}
	switch {
	case s.sheet:
		n.addSheet()
	case s.needsBorder():
		n.addBorder()
	}
	if s.req.Purpose == Stencil && !s.sheet {
		n.drawnMargins()
	}
	n.turn()
	for i := range n.base {
		n.base[i].class = n.classOf(n.base[i].face)
	}
	return n
}

// listed returns the bounded faces in reading order.
func (s *bridged) listed() []int32 {
	var faces []int32
	for f := 1; f < len(s.cells.Faces); f++ {
		faces = append(faces, int32(f))
	}
	return s.cells.readingOrder(s.budget, faces)
}

// extent returns the box of all strokes, those that do not cut included.
func (s *bridged) extent() geometry.Box {
	b := geometry.EmptyBox()
	for i := range s.strokes {
		s.budget.Spend(1 + len(s.strokes[i].Path.Segments))
		b = b.Union(s.strokes[i].Path.Bounds())
	}
	return b
}

// addBorder adds the weed border and the surround inside it. That is the last
// region, so that switching the border off moves no number.
func (n *numbered) addBorder() {
	n.surround(n.bounds.Grow(n.limits.BorderMM), true)
}

// surround makes what lies between the outermost outlines and a box the last
// region, and cuts along the box where that is wanted.
func (n *numbered) surround(box geometry.Box, cut bool) {
	n.bounds = box
	corners := n.bounds.Corners()
	rings := [][]geometry.Point{corners[:]}
	for _, hole := range n.cells.Holes(0) {
		n.budget.Spend(len(n.cells.HalfEdges(hole)))
		rings = append(rings, n.cells.Points(hole))
	}
	n.base = append(n.base, base{face: 0, rings: rings})
	if cut {
		n.strokes = append(n.strokes[:len(n.strokes):len(n.strokes)], border(box))
	}
}

// turn turns over the regions a person named.
func (n *numbered) turn() {
	for _, number := range n.req.Turned {
		if number < 1 || number > len(n.base) {
			n.find(finding.New(finding.RegionUnknown, 1, finding.Values{"number": finding.Int(number), "regions": finding.Int(len(n.base))}))
			continue
		}
		f := n.base[number-1].face
		n.kept[f] = !n.kept[f]
	}
}

// classOf says what a region is.
func (n *numbered) classOf(face int32) Class {
	switch {
	case n.kept[face]:
		return Kept
	case n.cells.depth[face] == 0:
		return Surround
	case n.holds(face):
		return Ground
	}
	return Counter
}

// readingOrder returns the faces in the order in which a person reads a page:
// outer ones first, then rows from the top, each from the left. It depends on
// where the faces lie and not on the order in which they were drawn.
func (c *cells) readingOrder(b *budget.Budget, faces []int32) []int32 {
	boxes := make([]geometry.Box, len(c.Faces))
	for _, f := range faces {
		boxes[f] = c.box(b, f)
	}
	slices.SortFunc(faces, func(f, g int32) int {
		b.Step()
		return cmp.Or(cmp.Compare(c.depth[f], c.depth[g]), compareBoxes(boxes[f], boxes[g]), cmp.Compare(c.Faces[g].Area, c.Faces[f].Area))
	})
	for i := 0; i < len(faces); {
		// A row holds the faces of one depth whose middle lies above the
		// foot of its topmost one.
		foot, j := boxes[faces[i]].Min.Y, i+1
		for j < len(faces) && c.depth[faces[j]] == c.depth[faces[i]] && boxes[faces[j]].Centre().Y >= foot {
			j++
		}
		slices.SortStableFunc(faces[i:j], func(f, g int32) int {
			b.Step()
			return cmp.Compare(boxes[f].Min.X, boxes[g].Min.X)
		})
		i = j
	}
	return faces
}

// compareBoxes puts the higher box first, then the one farther left.
func compareBoxes(a, b geometry.Box) int {
	return cmp.Or(cmp.Compare(b.Max.Y, a.Max.Y), cmp.Compare(a.Min.X, b.Min.X),
		cmp.Compare(b.Min.Y, a.Min.Y), cmp.Compare(a.Max.X, b.Max.X))
}
