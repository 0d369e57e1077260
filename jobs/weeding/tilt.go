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
)

// tilt returns by how much lettering is turned anticlockwise but for quarter turns, in
// radians within (−π/4, π/4], and whether its edges tell: 0 where they do not.
func (c lettering) tilt(all []figure) (turn float64, told bool) {
	var weight [tiltSteps]float64
	total := 0.0
	c.eachEdge(all, func(length, turn float64) {
		weight[int(turn/math.Pi*tiltSteps+0.5)%tiltSteps] += length
		total += length
	})
	around := func(i int) float64 {
		return weight[(i+tiltSteps-1)%tiltSteps] + weight[i%tiltSteps] + weight[(i+1)%tiltSteps]
	}
	crossed := func(i int) float64 { return min(around(i), around(i+tiltSteps/2)) }
	best := 0
	for i := range tiltSteps / 2 {
		if crossed(i) > crossed(best) {
			best = i
		}
	}
	switch told = crossed(best) >= tiltShare*total; {
	case !told, best <= 1, best >= tiltSteps/2-1, crossed(best) < tiltOver*crossed(0):
		return 0, told
	}
	return c.tiltNear(all, math.Pi/tiltSteps*float64(best)), true
}

// tiltNear returns the mean of the edges whose turn, or that across it, is within a step
// and a half of one.
func (c lettering) tiltNear(all []figure, turn float64) float64 {
	sum, total := 0.0, 0.0
	c.eachEdge(all, func(length, edge float64) {
		off := math.Remainder(edge-turn, math.Pi/2)
		if math.Abs(off) <= 1.5*math.Pi/tiltSteps {
			sum, total = sum+length*off, total+length
		}
	})
	return math.Remainder(turn+sum/total, math.Pi/2)
}

// eachEdge calls f for the outer edges of figures: their length, and their turn from
// the x axis in [0, π].
func (c lettering) eachEdge(all []figure, f func(length, turn float64)) {
	for _, one := range all {
		pts := c.Points(c.Faces[one.face].Outer)
		c.budget.Spend(len(pts))
		for i, p := range pts {
			d := p.Sub(pts[(i+len(pts)-1)%len(pts)])
			if d.Y < 0 {
				d = d.Mul(-1)
			}
			if d != (geometry.Point{}) {
				f(d.Norm(), math.Max(0, math.Atan2(d.Y, d.X)))
			}
		}
	}
}
