package exact

import (
	"math"

	"knifedesk/geometry/budget"
)

// How often the sides are chosen anew, and how often all are looked at in
// between, at most.
const (
	choices = 12
	sweeps  = 200
)

// hold is a side that two bodies have to keep to.
type hold struct {
	a, b     int
	x, y     float64 // the normal, of length 1
	least    float64 // what its product with the way from a to b must not be below
	straight bool    // along an axis: whole steps keep it exactly
}

// Resolve moves bodies that overlap by no more than about depth steps apart,
// along the sides on which they lie now, and puts them on the grid. It reports
// whether they are disjoint then. A side that is not along an axis is kept with
// spare steps to spare, since its bodies are rounded afterwards.
func Resolve(b *budget.Budget, bodies []Body, depth, spare float64) bool {
	x, y := make([]float64, len(bodies)), make([]float64, len(bodies))
	for i := range bodies {
		x[i], y[i] = float64(bodies[i].X), float64(bodies[i].Y)
	}
	for range choices {
		holds := nearby(b, bodies, depth)
		for range sweeps {
			worst := 0.0
			for i := range holds {
				b.Step()
				worst = max(worst, holds[i].push(bodies, x, y, spare))
			}
			if worst < 0.02 {
				break
			}
		}
		for i := range bodies {
			bodies[i].X, bodies[i].Y = int64(math.Floor(x[i]+0.5)), int64(math.Floor(y[i]+0.5))
		}
		if nudge(b, bodies) {
			return true
		}
	}
	return false
}

// nearby returns the sides of all parts that are near each other.
func nearby(b *budget.Budget, bodies []Body, depth float64) []hold {
	var holds []hold
	reach := int64(8*depth) + 20
	for i := range bodies {
		a := &bodies[i]
		for k := i + 1; k < len(bodies); k++ {
			b.Step()
			c := &bodies[k]
			if a.fixed() && c.fixed() || apart(a, c, reach) {
				continue
			}
			dx, dy := c.X-a.X, c.Y-a.Y
			for m, p := range a.Parts {
				for n, q := range c.Parts {
					b.Step()
					if !near(&a.Spans[m], &c.Spans[n], dx, dy, reach) {
						continue
					}
					s, d := divide(p, q, dx, dy)
					if d > float64(reach) {
						continue
					}
					holds = append(holds, hold{
						a: i, b: k, x: float64(s.nx) / s.length, y: float64(s.ny) / s.length,
						least: float64(s.c) / s.length, straight: s.nx == 0 || s.ny == 0,
					})
				}
			}
		}
	}
	return holds
}

// push moves two bodies apart, each by half, so that they keep to the side, and
// returns by how much they did not.
func (h *hold) push(bodies []Body, x, y []float64, spare float64) float64 {
	lack := h.least - float64(h.x*(x[h.b]-x[h.a])) - float64(h.y*(y[h.b]-y[h.a]))
	if !h.straight {
		lack += spare
	}
	if lack <= 0.005 {
		return 0
	}
	half := lack / 2
	if bodies[h.a].fixed() || bodies[h.b].fixed() {
		half = lack
	}
	shift(&bodies[h.a], x, y, h.a, -float64(half*h.x), -float64(half*h.y))
	shift(&bodies[h.b], x, y, h.b, float64(half*h.x), float64(half*h.y))
	return lack
}

// shift moves a body within its limits.
func shift(b *Body, x, y []float64, i int, dx, dy float64) {
	x[i] = max(float64(b.Low.X), min(float64(b.High.X), x[i]+dx))
	y[i] = max(float64(b.Low.Y), min(float64(b.High.Y), y[i]+dy))
}
