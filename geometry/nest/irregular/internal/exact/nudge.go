package exact

import "knifedesk/geometry/budget"

// nudges is how often bodies that still overlap are moved, for each body.
const nudges = 8

// nudge moves bodies that overlap since they were rounded by a step or two, one
// at a time to where it overlaps others least. It reports whether all are
// disjoint then.
func nudge(b *budget.Budget, bodies []Body) bool {
	for range nudges {
		clean := true
		for i := range bodies {
			if bodies[i].fixed() || overlap(b, bodies, i) == 0 {
				continue
			}
			clean = false
			best := bodies[i]
			least := overlap(b, bodies, i)
			at := best
			for dx := int64(-2); dx <= 2; dx++ {
				for dy := int64(-2); dy <= 2; dy++ {
					bodies[i].X = max(at.Low.X, min(at.High.X, at.X+dx))
					bodies[i].Y = max(at.Low.Y, min(at.High.Y, at.Y+dy))
					if d := overlap(b, bodies, i); d < least {
						best, least = bodies[i], d
					}
				}
			}
			bodies[i] = best
		}
		if clean {
			return Disjoint(b, bodies)
		}
	}
	return Disjoint(b, bodies)
}

// overlap returns the summed depths to which body i overlaps others.
func overlap(b *budget.Budget, bodies []Body, i int) float64 {
	sum := 0.0
	a := &bodies[i]
	for k := range bodies {
		c := &bodies[k]
		if k == i || apart(a, c, 0) {
			continue
		}
		dx, dy := c.X-a.X, c.Y-a.Y
		for i, p := range a.Parts {
			for k, q := range c.Parts {
				b.Step()
				if !near(&a.Spans[i], &c.Spans[k], dx, dy, 0) {
					continue
				}
				if _, d := divide(p, q, dx, dy); d < 0 {
					sum -= d
				}
			}
		}
	}
	return sum
}
