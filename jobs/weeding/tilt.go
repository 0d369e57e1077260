package weeding

import (
	"math"

	"knifedesk/geometry"
)

// The straight edges of letters, stems and bars, stand across each other. Where both
// directions are tilted, so is the lettering.
//
//	│ ╱╲      stems and bars of upright letters: 90° and 0°
//	└ ╲ ╲╱    the same, turned: 107° and 17°
const (
	tiltSteps = 360 // of half a degree
	// tiltShare is the share of the edges that both directions need: round letters,
	// whose chords run all ways, have a share of 0.8 % in the window of three steps
	// (three of 360; common practice for the bar, no source).
	tiltShare = 0.03
	// tiltOver is how much more than upright edges the tilted ones have to be.
	tiltOver = 2
	// tiltMost is the share of the figures, by their edges, that have to be tilted so each
	// by itself.
	tiltMost = 0.5
)

// edges are the lengths of outer edges by their turn from the x axis.
type edges struct {
	weight [tiltSteps]float64
	total  float64
}

func (c lettering) edges(all []figure) *edges {
	e := &edges{}
	c.addEdges(e, all)
	return e
}

func (c lettering) addEdges(to *edges, all []figure) {
	c.eachEdge(all, func(e outlineEdge) {
		to.weight[int(e.turn/math.Pi*tiltSteps+0.5)%tiltSteps] += e.length
		to.total += e.length
	})
}

func (e *edges) add(more *edges) {
	for i, w := range more.weight {
		e.weight[i] += w
	}
	e.total += more.total
}

// crossed returns the length of edges of about one turn, or of those across them, whichever
// is less.
func (e *edges) crossed(i int) float64 {
	around := func(i int) float64 {
		return e.weight[(i+tiltSteps-1)%tiltSteps] + e.weight[i%tiltSteps] + e.weight[(i+1)%tiltSteps]
	}
	return min(around(i), around(i+tiltSteps/2))
}

// tilt returns by how much lettering with such edges is turned anticlockwise but for
// quarter turns, in radians within (−π/4, π/4], and whether they tell: 0 where they do not.
func (c lettering) tilt(all []figure, e *edges) (turn float64, told bool) {
	best := 0
	for i := range tiltSteps / 2 {
		if e.crossed(i) > e.crossed(best) {
			best = i
		}
	}
	told = e.crossed(best) >= tiltShare*e.total
	if !told || best <= 1 || best >= tiltSteps/2-1 || e.crossed(best) < tiltOver*e.crossed(0) || c.agreeing(all, best) < tiltMost*e.total {
		return 0, told
	}
	return c.tiltNear(all, math.Pi/tiltSteps*float64(best)), true
}

// agreeing returns the length of the edges of those figures that have such a tilt
// themselves, as all letters of a line have, and the leaves of an ornament have not.
func (c lettering) agreeing(all []figure, best int) float64 {
	length, own := 0.0, &edges{}
	for i := range all {
		*own = edges{}
		if c.addEdges(own, all[i:i+1]); own.crossed(best) >= tiltShare*own.total {
			length += own.total
		}
	}
	return length
}

// tiltNear returns the mean of the edges whose turn, or that across it, is within a step
// and a half of one.
func (c lettering) tiltNear(all []figure, turn float64) float64 {
	sum, total := 0.0, 0.0
	c.eachEdge(all, func(e outlineEdge) {
		off := math.Remainder(e.turn-turn, math.Pi/2)
		if math.Abs(off) <= 1.5*math.Pi/tiltSteps {
			sum, total = sum+e.length*off, total+e.length
		}
	})
	return math.Remainder(turn+sum/total, math.Pi/2)
}

// outlineEdge is an outer edge of a figure: its length, and its turn from the x axis in
// [0, π].
type outlineEdge struct{ length, turn float64 }

// eachEdge calls f for the outer edges of figures.
func (c lettering) eachEdge(all []figure, f func(outlineEdge)) {
	for i := range all {
		face := all[i].face
		if c.edgesOf[face] == nil {
			c.edgesOf[face] = edgesOf(c.outlines[face])
		}
		c.budget.Spend(len(c.edgesOf[face]))
		for _, e := range c.edgesOf[face] {
			f(e)
		}
	}
}

// edgesOf returns the edges of a ring, those that lead to a corner at its place.
func edgesOf(ring []geometry.Point) []outlineEdge {
	all := make([]outlineEdge, len(ring))
	before := ring[len(ring)-1]
	for i, p := range ring {
		d := p.Sub(before)
		if d.Y < 0 {
			d = d.Mul(-1)
		}
		all[i], before = outlineEdge{d.Norm(), math.Max(0, math.Atan2(d.Y, d.X))}, p
	}
	return all
}
