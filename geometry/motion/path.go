package motion

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// PathTime returns the seconds along path at up to speed mm/s, from rest to
// rest: those of Along.
func (m Axes) PathTime(b *budget.Budget, path geometry.Path, speed float64) float64 {
	return m.Along(b, path, speed).Time()
}

// Timer takes the time along one path after another, in room that is used again. It is for
// one goroutine.
type Timer struct {
	Axes
	pts    []geometry.Point
	legs   []leg
	pieces []piece
	v2     []float64 // square of the speed before each piece, and at the end
}

// PathTime is that of the axes.
func (t *Timer) PathTime(b *budget.Budget, path geometry.Path, speed float64) float64 {
	return t.along(b, path, speed).Time()
}

// Along returns the motion along path at up to speed mm/s, from rest to rest,
// looking ahead over all of it.
//
// Model: speed and acceleration are limited for each axis. Curves are flattened
// within cornerMM, and corners rounded by arcs that leave their point by no more
// than that again and take up half of a leg at most, so that they never overlap.
// On a curve of radius R the limit comes out as v²/R ≤ a where an axis is across
// it. Along a straight piece the speed rises and falls evenly (a trapezoid over
// time), along an arc it changes with what the curve leaves of the acceleration.
// Two sweeps, one from the end and one from the start, find the fastest speeds
// between all pieces.
func (m Axes) Along(b *budget.Budget, path geometry.Path, speed float64) Trajectory {
	t := Timer{Axes: m}
	return t.along(b, path, speed)
}

// along is Along; what it returns lasts until the next path.
func (t *Timer) along(b *budget.Budget, path geometry.Path, speed float64) Trajectory {
	t.flat(b, path)
	t.joinLegs(b)
	t.round(b, speed)
	p := t.pieces
	if len(p) == 0 {
		return Trajectory{path.Start, nil}
	}
	t.v2 = slices.Grow(t.v2[:0], len(p)+1)[:len(p)+1]
	v2 := t.v2
	v2[0], v2[len(p)] = 0, 0
	for i := len(p) - 1; i > 0; i-- {
		b.Step()
		v2[i] = min(p[i-1].top*p[i-1].top, p[i].top*p[i].top, p[i].reached(v2[i+1]))
	}
	for i := range p {
		b.Step()
		v2[i+1] = min(v2[i+1], p[i].reached(v2[i]))
		p[i].run(math.Sqrt(v2[i]), math.Sqrt(v2[i+1]))
	}
	return Trajectory{path.Start, p}
}

// cornerMM is how far the machine may round a corner of its path off. It is
// the tolerance with which curves are flattened.
const cornerMM = geometry.DefaultChord

// flat is path.Flatten(cornerMM) in steps.
func (t *Timer) flat(b *budget.Budget, path geometry.Path) {
	pts := append(slices.Grow(t.pts[:0], len(path.Segments)+1), path.Start)
	for _, s := range path.Segments {
		before := len(pts)
		pts = s.AppendFlat(pts, pts[before-1], cornerMM)
		b.Spend(len(pts) - before)
	}
	t.pts = pts
}
