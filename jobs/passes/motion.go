package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// MoveTime returns the seconds of a straight move over length mm from rest to
// rest at up to v mm/s with the acceleration a mm/s²: L/v + v/a where the
// speed is reached (L ≥ v²/a), else 2√(L/a).
func MoveTime(length, v, a float64) float64 {
	if length*a >= v*v {
		return length/v + v/a
	}
	return 2 * math.Sqrt(length/a)
}

// TravelTime returns the seconds from p to q with the knife up. Both axes
// start together and each has the same limits, so the longer way decides.
func TravelTime(p, q geometry.Point, m workshop.Machine) float64 {
	return travelCost(m)(p, q)
}

// travelCost returns the travel time of a machine as a function of two points:
// MoveTime over the longer way, written out, because the search for an order
// spends its time on it.
func travelCost(m workshop.Machine) func(p, q geometry.Point) float64 {
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

func chebyshev(p, q geometry.Point) float64 {
	return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y))
}

// leg is one straight piece of a motion.
type leg struct {
	length float64
	dir    geometry.Point
	v, a   float64 // limits along it
}

// PathTime returns the seconds along path at up to speed mm/s, from rest to
// rest, looking ahead over all of it.
//
// Model: speed and acceleration are limited for each axis, so a leg at an
// angle has a little more along it. A corner is rounded within cornerMM, and
// the speed through it is that whose centripetal acceleration one axis can
// still give. Since curves are flattened within the same cornerMM, the limit
// on a curve of radius R comes out as v²/R ≤ a. Over a leg the speed rises and
// falls at the leg's acceleration (a trapezoid); two sweeps, one from the end
// and one from the start, find the fastest speeds at all corners.
func PathTime(path geometry.Path, speed float64, m workshop.Machine) float64 {
	legs := legsOf(path.Flatten(cornerMM), speed, m)
	if len(legs) == 0 {
		return 0
	}
	v2 := cornerSpeeds(legs, m.AccelMMS2)
	for i := len(legs) - 1; i > 0; i-- {
		v2[i] = math.Min(v2[i], v2[i+1]+2*legs[i].a*legs[i].length)
	}
	total := 0.0
	for i, l := range legs {
		v2[i+1] = math.Min(v2[i+1], v2[i]+2*l.a*l.length)
		total += l.time(math.Sqrt(v2[i]), math.Sqrt(v2[i+1]))
	}
	return total
}

// cornerMM is how far the machine may round a corner of its path off. It is
// the tolerance with which curves are flattened.
const cornerMM = geometry.DefaultChord

func legsOf(pts []geometry.Point, speed float64, m workshop.Machine) []leg {
	legs := make([]leg, 0, len(pts))
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1])
		length := d.Norm()
		if length == 0 {
			continue
		}
		dir := d.Mul(1 / length)
		axis := math.Max(math.Abs(dir.X), math.Abs(dir.Y))
		l := leg{length: length, dir: dir, v: speed, a: m.AccelMMS2 / axis}
		if m.MaxSpeedMMS > 0 {
			l.v = math.Min(speed, m.MaxSpeedMMS/axis)
		}
		legs = append(legs, l)
	}
	return legs
}

// cornerSpeeds returns the square of the highest speed before each leg and
// after the last one; it is nought at both ends.
//
// An arc that touches both legs of a corner that turns by φ and passes within
// δ of its point has the radius R = δ·c/(1−c) with c = cos(φ/2).
func cornerSpeeds(legs []leg, accel float64) []float64 {
	v2 := make([]float64, len(legs)+1)
	for i := 1; i < len(legs); i++ {
		from, to := legs[i-1], legs[i]
		limit := math.Min(from.v, to.v)
		v2[i] = limit * limit
		c := math.Sqrt(math.Max(0, (1+from.dir.Dot(to.dir))/2))
		if 1-c < 1e-12 {
			continue
		}
		n := to.dir.Sub(from.dir).Unit()
		axis := math.Max(math.Abs(n.X), math.Abs(n.Y))
		v2[i] = math.Min(v2[i], accel*cornerMM*c/(1-c)/axis)
	}
	return v2
}

// time returns the seconds of the leg between two speeds that it can join.
func (l leg) time(v0, v1 float64) float64 {
	peak := math.Min(l.v, math.Sqrt((2*l.a*l.length+v0*v0+v1*v1)/2))
	peak = math.Max(peak, math.Max(v0, v1))
	ramps := (2*peak*peak - v0*v0 - v1*v1) / (2 * l.a)
	return (2*peak-v0-v1)/l.a + math.Max(0, l.length-ramps)/peak
}
