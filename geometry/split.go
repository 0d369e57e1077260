package geometry

import (
	"math"
	"slices"
)

// Axis is the direction of an axis-parallel line.
type Axis uint8

// The axes. Upright lines are those on which x stands still.
const (
	Upright Axis = iota
	Level
)

// Of returns the coordinate of p that stands still on such lines.
func (a Axis) Of(p Point) float64 {
	if a == Upright {
		return p.X
	}
	return p.Y
}

// Meets returns, rising, the parameters strictly between 0 and 1 at which a segment
// that starts at from meets the line at. What runs along the line, or only touches it
// with an end, does not meet it. Cubics are met to the last bit that bisection finds.
func (s Segment) Meets(from Point, axis Axis, at float64) []float64 {
	a, z := axis.Of(from)-at, axis.Of(s.End)-at
	var ts []float64
	switch {
	case s.Straight():
		if a*z < 0 {
			ts = append(ts, a/(a-z))
		}
	case s.Kind == Arc:
		ts = arcMeets(from, s, axis, at)
	default:
		ts = cubicMeets(a, axis.Of(s.C1)-at, axis.Of(s.C2)-at, z)
	}
	slices.Sort(ts)
	return slices.DeleteFunc(slices.Compact(ts), func(t float64) bool { return t <= 0 || t >= 1 })
}

func arcMeets(from Point, s Segment, axis Axis, at float64) []float64 {
	c, r, start, sweep := ArcCircle(from, s)
	ratio := (at - axis.Of(c)) / r
	if math.Abs(ratio) >= 1 {
		return nil
	}
	angles := [2]float64{math.Acos(ratio), -math.Acos(ratio)}
	if axis == Level {
		angles = [2]float64{math.Asin(ratio), math.Pi - math.Asin(ratio)}
	}
	var ts []float64
	for _, angle := range angles {
		for turn := -2.0; turn <= 2; turn++ {
			ts = append(ts, (angle+2*math.Pi*turn-start)/sweep)
		}
	}
	return ts
}

// cubicMeets returns where a cubic in one coordinate is nought: between two of its
// standstills it is there once at most.
func cubicMeets(p0, p1, p2, p3 float64) []float64 {
	at := func(t float64) float64 {
		u := 1 - t
		return u*u*u*p0 + 3*u*u*t*p1 + 3*u*t*t*p2 + t*t*t*p3
	}
	stops := append(cubicExtrema(p0, p1, p2, p3), 0, 1)
	slices.Sort(stops)
	var ts []float64
	for i := 1; i < len(stops); i++ {
		lo, hi := stops[i-1], stops[i]
		if at(lo)*at(hi) >= 0 {
			continue
		}
		rising := at(lo) < 0
		for range 64 {
			if mid := lo + (hi-lo)/2; (at(mid) < 0) == rising {
				lo = mid
			} else {
				hi = mid
			}
		}
		ts = append(ts, hi)
	}
	return ts
}

// At returns the point of a segment that starts at from at the parameter t, from 0 to
// 1: of an arc by its angle.
func (s Segment) At(from Point, t float64) Point {
	switch {
	case s.Straight():
		return from.Lerp(s.End, t)
	case s.Kind == Arc:
		c, r, start, sweep := ArcCircle(from, s)
		sin, cos := math.Sincos(start + sweep*t)
		return c.Add(Pt(r*cos, r*sin))
	}
	return CubicAt(from, s, t)
}

// Split parts a segment that starts at from at rising parameters between 0 and 1. Its
// parts run exactly as it does.
func (s Segment) Split(from Point, at []float64) []Segment {
	parts := make([]Segment, 0, len(at)+1)
	done, rest, start := 0.0, s, from
	for _, t := range at {
		here := s.At(from, t)
		switch {
		case s.Straight():
			parts = append(parts, LineTo(here))
		case s.Kind == Arc:
			_, _, _, sweep := ArcCircle(from, s)
			parts = append(parts, ArcTo(math.Tan(sweep*(t-done)/4), here))
			rest.Bulge = math.Tan(sweep * (1 - t) / 4)
		default: // de Casteljau
			u := (t - done) / (1 - done)
			ab, bc, cd := start.Lerp(rest.C1, u), rest.C1.Lerp(rest.C2, u), rest.C2.Lerp(rest.End, u)
			abc, bcd := ab.Lerp(bc, u), bc.Lerp(cd, u)
			parts = append(parts, CubicTo(ab, abc, here))
			rest.C1, rest.C2 = bcd, cd
		}
		done, start = t, here
	}
	return append(parts, rest)
}
