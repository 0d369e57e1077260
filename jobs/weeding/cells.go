package weeding

import (
	"cmp"
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// cells are the faces of the cut lines, with how deep each is nested and which
// closed strokes run round it.
type cells struct {
	*planar.Map
	cutLines
	strokes []artwork.Stroke
	depth   []int
	round   [][]winding // by face, ordered by stroke
}

// winding says how often a closed stroke runs round a face, anticlockwise
// counting positive.
type winding struct{ stroke, turns int32 }

// arrange makes the cells of the strokes.
func arrange(strokes []artwork.Stroke, chord float64) (*cells, error) {
	lines := flatten(strokes, chord)
	m, err := planar.Arrange(nil, lines.lines)
	if err != nil {
		return nil, fmt.Errorf("weed: the cut lines: %w", err)
	}
	c := &cells{Map: m, cutLines: lines, strokes: strokes}
	c.nest()
	return c, nil
}

// nest walks from the unbounded face inwards over the edges that bound faces.
// An edge counts once however often it was drawn, and not at all where only
// invisible strokes run along it.
func (c *cells) nest() {
	n := len(c.Faces)
	c.depth, c.round = make([]int, n), make([][]winding, n)
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
				g := c.Face(h.Twin())
				if !seen[g] {
					seen[g], c.round[g] = true, c.cross(c.round[f], h.Twin())
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

// cross returns the windings on the left of h, from those on its right: a
// closed stroke that runs along h turns once more round its left side.
func (c *cells) cross(right []winding, h planar.HalfEdge) []winding {
	left := right
	owned := false
	for use, line := range c.Sources(h.Edge()) {
		stroke := c.stroke[line]
		s := &c.strokes[stroke]
		if !s.Path.Closed || invisible(s) {
			continue
		}
		if !owned {
			left, owned = slices.Clone(right), true
		}
		turn := int32(-1)
		if c.Forward(h.Edge(), use) == (h&1 == 0) {
			turn = 1
		}
		left = turned(left, stroke, turn)
	}
	return left
}

func turned(ws []winding, stroke, turn int32) []winding {
	i, found := slices.BinarySearchFunc(ws, stroke, func(w winding, s int32) int { return cmp.Compare(w.stroke, s) })
	if !found {
		return slices.Insert(ws, i, winding{stroke, turn})
	}
	if ws[i].turns += turn; ws[i].turns == 0 {
		return slices.Delete(ws, i, i+1)
	}
	return ws
}

// turns returns how often the stroke runs round the face.
func (c *cells) turns(face, stroke int32) int32 {
	ws := c.round[face]
	i, found := slices.BinarySearchFunc(ws, stroke, func(w winding, s int32) int { return cmp.Compare(w.stroke, s) })
	if !found {
		return 0
	}
	return ws[i].turns
}

// rings returns the corners of the rings of a bounded face, outer first.
func (c *cells) rings(face int32) [][]geometry.Point {
	rings := [][]geometry.Point{c.Points(c.Faces[face].Outer)}
	for _, hole := range c.Holes(face) {
		rings = append(rings, c.Points(hole))
	}
	return rings
}

// box returns the box of a bounded face.
func (c *cells) box(face int32) geometry.Box {
	return geometry.BoxAround(c.Points(c.Faces[face].Outer)...)
}
