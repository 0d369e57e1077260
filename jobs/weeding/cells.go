package weeding

import (
	"fmt"
	"iter"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// cells are the faces of the cut lines, with how deep each is nested and which
// closed strokes run round it.
type cells struct {
	*planar.Map
	stroke   []int32      // by line: the stroke that it is of
	bounds   geometry.Box // of the lines
	strokes  []artwork.Stroke
	depth    []int
	levels   int
	windings []*windings // by face
	entered  [][]winding // by face: of the strokes on the edge by which nest came in
}

// arrange makes the cells of the strokes.
func arrange(b *budget.Budget, strokes []artwork.Stroke, chord float64) (*cells, error) {
	lines := flatten(b, strokes, chord)
	m, err := planar.Arrange(b, lines.lines)
	if err != nil {
		return nil, fmt.Errorf("weed: the cut lines: %w", err)
	}
	c := &cells{Map: m, stroke: lines.stroke, bounds: lines.bounds(), strokes: strokes}
	c.nest(b)
	return c, nil
}

// nest walks from the unbounded face inwards over the edges that bound faces.
// An edge counts once however often it was drawn, and not at all where only
// invisible strokes run along it.
func (c *cells) nest(b *budget.Budget) {
	n := len(c.Faces)
	c.depth, c.levels = make([]int, n), levels(len(c.strokes))
	c.windings, c.entered = make([]*windings, n), make([][]winding, n)
	for f := range c.depth {
		c.depth[f] = n // deeper than any
	}
	c.depth[0] = 0
	seen, done := make([]bool, n), make([]bool, n)
	seen[0] = true
	for now := []int32{0}; len(now) > 0; {
		var deeper []int32
		for len(now) > 0 { // all of one depth; invisible edges add to them
			f := now[len(now)-1]
			now = now[:len(now)-1]
			if done[f] {
				continue
			}
			done[f] = true
			c.eachSide(f, func(h planar.HalfEdge) {
				b.Step()
				g := c.Face(h.Twin())
				if !seen[g] {
					seen[g] = true
					c.windings[g], c.entered[g] = c.cross(b, c.windings[f], h.Twin())
				}
				switch {
				case done[g]:
				case c.hidden(h.Edge()):
					c.depth[g] = c.depth[f]
					now = append(now, g)
				case c.depth[g] > c.depth[f]+1:
					c.depth[g] = c.depth[f] + 1
					deeper = append(deeper, g)
				}
			})
		}
		now = deeper
	}
}

// eachSide calls f for the half-edges of the rings of face, which have it on
// their left.
func (c *cells) eachSide(face int32, f func(planar.HalfEdge)) {
	if outer := c.Faces[face].Outer; outer != planar.NoRing {
		for _, h := range c.HalfEdges(outer) {
			f(h)
		}
	}
	for _, hole := range c.Holes(face) {
		for _, h := range c.HalfEdges(hole) {
			f(h)
		}
	}
}

// hidden reports whether only invisible strokes run along the edge.
func (c *cells) hidden(edge int32) bool {
	for _, line := range c.Sources(edge) {
		if !invisible(&c.strokes[c.stroke[line]]) {
			return false
		}
	}
	return true
}

// cross returns the windings on the left of h, from those on its right, and
// again those that differ: a closed stroke that runs along h turns once more
// round its left side.
func (c *cells) cross(b *budget.Budget, right *windings, h planar.HalfEdge) (left *windings, differ []winding) {
	left = right
	on := c.closedOn(b, h.Edge(), nil)
	for use, line := range c.Sources(h.Edge()) {
		stroke := c.stroke[line]
		if s := &c.strokes[stroke]; !s.Path.Closed || invisible(s) {
			continue
		}
		turn := int32(-1)
		if c.Forward(h.Edge(), use) == (h&1 == 0) {
			turn = 1
		}
		b.Spend(c.levels)
		left = left.turned(stroke, turn, c.levels)
	}
	for _, s := range on {
		differ = append(differ, winding{s, left.at(s, c.levels)})
	}
	return left, differ
}

// round yields the closed strokes that run round the face and how often.
func (c *cells) round(b *budget.Budget, face int32) iter.Seq[winding] {
	return func(yield func(winding) bool) {
		for w := range c.windings[face].all(c.levels) {
			if b.Step(); !yield(w) {
				return
			}
		}
	}
}

// turns returns how often the stroke runs round the face.
func (c *cells) turns(face, stroke int32) int32 { return c.windings[face].at(stroke, c.levels) }

// closedOn appends the closed strokes that run along an edge to none.
func (c *cells) closedOn(b *budget.Budget, edge int32, on []int32) []int32 {
	for _, line := range c.Sources(edge) {
		b.Spend(1 + len(on)/8)
		s := c.stroke[line]
		if st := &c.strokes[s]; st.Path.Closed && !invisible(st) && !slices.Contains(on, s) {
			on = append(on, s)
		}
	}
	return on
}

// path returns the closed path along half-edges.
func (c *cells) path(b *budget.Budget, loop []planar.HalfEdge) geometry.Path {
	return geometry.Polygon(c.corners(b, loop)...)
}

// rings returns the corners of the rings of a bounded face, outer first.
func (c *cells) rings(b *budget.Budget, face int32) [][]geometry.Point {
	rings := make([][]geometry.Point, 0, 1+len(c.Holes(face)))
	for _, ring := range c.boundary(face) {
		rings = append(rings, c.corners(b, ring))
	}
	return rings
}

// box returns the box of a bounded face.
func (c *cells) box(b *budget.Budget, face int32) geometry.Box {
	along := c.HalfEdges(c.Faces[face].Outer)
	b.Spend(len(along))
	box := geometry.EmptyBox()
	for _, h := range along {
		box = box.Include(c.Point(c.Start(h)))
	}
	return box
}
