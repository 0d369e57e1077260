// Package motion takes the time of machines with two axes that move straight
// from point to point and along paths.
//
// Lengths are in mm, speeds in mm/s, accelerations in mm/s², times in s. Speed
// rises and falls evenly (a trapezoid over time), and both axes have the same
// limits.
package motion

import (
	"math"

	"knifedesk/geometry"
)

// Axes is what each of the two axes of a machine can do.
type Axes struct {
	SpeedMMS  float64 // along a path, at most; 0: as fast as is asked for
	TravelMMS float64 // from one path to the next
	AccelMMS2 float64
}

// MoveTime returns the seconds of a straight move over length mm from rest to
// rest at up to v mm/s with the acceleration a mm/s²: L/v + v/a where the
// speed is reached (L ≥ v²/a), else 2√(L/a).
func MoveTime(length, v, a float64) float64 {
	if length*a >= v*v {
		return length/v + v/a
	}
	return 2 * math.Sqrt(length/a)
}

// Travel returns the seconds of a move from rest to rest at travel speed, as a
// function of its two ends. Both axes start together, so the longer way
// decides: it is MoveTime over that, written out, because a search for an
// order spends its time on it.
func (m Axes) Travel() func(p, q geometry.Point) float64 {
	speed, accel := m.TravelMMS, m.AccelMMS2
	ramp := speed * speed / accel // mm, from which the speed is reached
	return func(p, q geometry.Point) float64 {
		dx, dy := p.X-q.X, p.Y-q.Y
		if dx < 0 {
			dx = -dx
		}
		if dy < 0 {
			dy = -dy
		}
		d := max(dx, dy)
		if d < ramp {
			return 2 * math.Sqrt(d/accel)
		}
		return d/speed + speed/accel
	}
}
