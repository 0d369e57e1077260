package mend

import (
	"knifedesk/geometry"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// contacts are the places at which the chords of strokes have to stay as they
// are, because other lines meet them there: an arc leaves the chord by up to
// arcMM, and what ended on it would end beside it.
type contacts struct {
	node map[geometry.Point]bool // vertices at which more than two chords meet
	met  map[chord]bool          // chords that a vertex of another line touches
}

// chord is a straight piece, its lesser end first.
type chord [2]geometry.Point

func chordOf(p piece) chord {
	if comparePoints(p.seg.End, p.from) < 0 {
		return chord{p.seg.End, p.from}
	}
	return chord{p.from, p.seg.End}
}

// newContacts finds the contacts of all strokes. It costs O(n log n) for n
// segments of which few lie near each other.
func newContacts(e *Effort, strokes []artwork.Stroke) contacts {
	c := contacts{node: map[geometry.Point]bool{}, met: map[chord]bool{}}
	var all []piece
	for i := range strokes {
		all = appendPieces(all, strokes[i].Path)
	}
	beside := map[geometry.Point][2]geometry.Point{} // of a vertex: two neighbours
	for _, p := range all {
		e.steps().Step()
		c.neighbour(beside, p.from, p.seg.End)
		c.neighbour(beside, p.seg.End, p.from)
	}
	c.touched(e, all)
	return c
}

// neighbour notes that a piece runs from p to q; p is a node from the third
// neighbour on.
func (c contacts) neighbour(beside map[geometry.Point][2]geometry.Point, p, q geometry.Point) {
	switch two, known := beside[p]; {
	case !known:
		beside[p] = [2]geometry.Point{q, q}
	case two[0] == q || two[1] == q:
	case two[0] == two[1]:
		beside[p] = [2]geometry.Point{two[0], q}
	default:
		c.node[p] = true
	}
}

// touched finds the chords that a vertex comes near to, other than those of the
// chords beside it.
func (c contacts) touched(e *Effort, all []piece) {
	boxes := make([]geometry.Box, len(all))
	for i, p := range all {
		boxes[i] = p.box()
	}
	tree := near.NewTree(e.steps(), boxes)
	for _, p := range all {
		for _, v := range [2]geometry.Point{p.from, p.seg.End} {
			e.each(tree, geometry.BoxAround(v).Grow(2*arcMM), func(k int) bool {
				q := all[k]
				if q.seg.Kind == geometry.Line && v != q.from && v != q.seg.End && between(v, q) {
					c.met[chordOf(q)] = true
				}
				return true
			})
		}
	}
}

// between reports whether v lies on a chord, to within twice what an arc may stray
// from it, and farther than that from both of its ends.
func between(v geometry.Point, q piece) bool {
	_, d, ok := q.footOnLine(v)
	return ok && d <= 2*arcMM && v.Dist(q.from) > 2*arcMM && v.Dist(q.seg.End) > 2*arcMM
}
