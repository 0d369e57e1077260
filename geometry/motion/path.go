package motion

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

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
func (m Axes) PathTime(b *budget.Budget, path geometry.Path, speed float64) float64 {
	legs := m.legs(b, flat(b, path), speed)
	if len(legs) == 0 {
		return 0
	}
	v2 := m.cornerSpeeds(b, legs)
	for i := len(legs) - 1; i > 0; i-- {
		b.Step()
		v2[i] = math.Min(v2[i], v2[i+1]+2*legs[i].a*legs[i].length)
	}
	total := 0.0
	for i, l := range legs {
		b.Step()
		v2[i+1] = math.Min(v2[i+1], v2[i]+2*l.a*l.length)
		total += l.time(math.Sqrt(v2[i]), math.Sqrt(v2[i+1]))
	}
	return total
}

// cornerMM is how far the machine may round a corner of its path off. It is
// the tolerance with which curves are flattened.
const cornerMM = geometry.DefaultChord

// flat is path.Flatten(cornerMM) in steps.
func flat(b *budget.Budget, path geometry.Path) []geometry.Point {
	pts := make([]geometry.Point, 1, len(path.Segments)+1)
	pts[0] = path.Start
	for _, s := range path.Segments {
		before := len(pts)
		pts = s.AppendFlat(pts, pts[before-1], cornerMM)
		b.Spend(len(pts) - before)
	}
	return pts
}

// legs returns the moves between the points, those that move nothing left out.
func (m Axes) legs(b *budget.Budget, pts []geometry.Point, speed float64) []leg {
	legs := make([]leg, 0, len(pts))
	for i := 1; i < len(pts); i++ {
		b.Step()
		d := pts[i].Sub(pts[i-1])
		length := d.Norm()
		if length == 0 {
			continue
		}
		dir := d.Mul(1 / length)
		axis := math.Max(math.Abs(dir.X), math.Abs(dir.Y))
		l := leg{length: length, dir: dir, v: speed, a: m.AccelMMS2 / axis}
		if m.SpeedMMS > 0 {
			l.v = math.Min(speed, m.SpeedMMS/axis)
		}
		legs = append(legs, l)
	}
	return legs
}

// cornerSpeeds returns the square of the highest speed before each leg and
// after the last one; it is zero at both ends.
//
// An arc that touches both legs of a corner that turns by φ and passes within
// δ of its point has the radius R = δ·c/(1−c) with c = cos(φ/2).
func (m Axes) cornerSpeeds(b *budget.Budget, legs []leg) []float64 {
	v2 := make([]float64, len(legs)+1)
	for i := 1; i < len(legs); i++ {
		b.Step()
		from, to := legs[i-1], legs[i]
		limit := math.Min(from.v, to.v)
		v2[i] = limit * limit
		c := math.Sqrt(math.Max(0, (1+from.dir.Dot(to.dir))/2))
		if 1-c < 1e-12 {
			continue
		}
		n := to.dir.Sub(from.dir).Unit()
		axis := math.Max(math.Abs(n.X), math.Abs(n.Y))
		v2[i] = math.Min(v2[i], m.AccelMMS2*cornerMM*c/(1-c)/axis)
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
