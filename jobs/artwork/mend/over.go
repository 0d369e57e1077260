package mend

import (
	"maps"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/near"
)

// crossesAny reports whether the closed stroke s runs over one of the closed
// strokes that share a part of its outline, and does not only lie beside it or
// inside it.
func (w *sweep) crossesAny(s int, others map[int]bool) bool {
	if !w.strokes[s].Path.Closed {
		return false
	}
	for _, o := range slices.Sorted(maps.Keys(others)) { // what is looked at is counted, so it has an order
		if o != s && w.strokes[o].Path.Closed && w.crosses(w.strokes[s].Path, w.strokes[o].Path) {
			return true
		}
	}
	return false
}

// looksPerChord is how many looks it costs to put a chord into a tree; for one
// look, a point is held against as many sides of a ring.
const looksPerChord = 8

// crosses reports whether some of the closed path a lies inside the closed
// path b and some outside. What lies on b counts as neither.
func (w *sweep) crosses(a, b geometry.Path) bool {
	const most = 64 // places looked at along a
	ring := b.FlattenIn(w.effort.steps(), flatMM)
	sides := newChords(w.effort, ring)
	var in, out bool
	all := pieces(a)
	step := max(1, len(all)/most)
	for i := 0; i < len(all) && !(in && out); i += step {
		for _, t := range []float64{0.03, 0.35, 0.65, 0.97} {
			p := all[i].at(t)
			if sides.within(p, w.lim.OverlapMM+flatMM) {
				continue
			}
			w.effort.spend(len(ring) / looksPerChord)
			if near.Inside(p, ring) {
				in = true
			} else {
				out = true
			}
		}
	}
	return in && out
}

// chords is a polyline with its chords in a tree.
type chords struct {
	pts    []geometry.Point
	tree   *near.Tree
	effort *Effort
}

func newChords(e *Effort, pts []geometry.Point) chords {
	e.spend(looksPerChord * len(pts))
	boxes := make([]geometry.Box, len(pts)-1)
	for i := range boxes {
		boxes[i] = geometry.BoxAround(pts[i], pts[i+1])
	}
	return chords{pts, near.NewTree(e.steps(), boxes), e}
}

// nearest returns the distance of p to the polyline, reach where it is more.
func (c chords) nearest(p geometry.Point, reach float64) float64 {
	best := reach
	c.effort.each(c.tree, geometry.BoxAround(p).Grow(reach), func(i int) bool {
		side := piece{c.pts[i], geometry.LineTo(c.pts[i+1])}
		if _, d, _ := side.foot(p); d < best {
			best = d
		}
		return true
	})
	return best
}

func (c chords) within(p geometry.Point, reach float64) bool { return c.nearest(p, reach) < reach }
