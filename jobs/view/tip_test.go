package view_test

import (
	"math"

	"knifedesk/geometry"
)

// knifeTip is a blade that somebody else's law moves: what a file holds is the way
// of the axis, and the tip is pulled along behind it.
type knifeTip struct {
	offset  float64
	heading float64 // angle from the tip to the axis
}

// cut pulls the blade along a line of a file, let down at its start, and returns
// where the tip goes. Straight pull (the tractrix of a straight line, Huygens):
// tan(θ/2) = tan(θ₀/2)·e^(−s/d). Arcs are pulled along chords of at most half a
// degree that stray by at most 0.02 µm.
func (k *knifeTip) cut(axis geometry.Path) []geometry.Point {
	at := axis.Start
	tip := func() geometry.Point {
		sin, cos := math.Sincos(k.heading)
		return geometry.Pt(at.X-k.offset*cos, at.Y-k.offset*sin)
	}
	trail := []geometry.Point{tip()}
	pull := func(to geometry.Point) {
		s := at.Dist(to)
		if s == 0 {
			return
		}
		along := math.Atan2(to.Y-at.Y, to.X-at.X)
		theta := math.Remainder(k.heading-along, 2*math.Pi)
		at = to
		if k.offset > 0 {
			k.heading = along + 2*math.Atan(math.Tan(theta/2)*math.Exp(-s/k.offset))
		}
		trail = append(trail, tip())
	}
	for _, s := range axis.Segments {
		from := at
		if s.Kind == geometry.Line {
			const looks = 16 // of the tip on its way
			for i := 1.0; i <= looks; i++ {
				pull(from.Lerp(s.End, i/looks))
			}
			continue
		}
		pieces := 1.0
		if s.Kind == geometry.Arc {
			pieces = math.Ceil(4 * math.Abs(math.Atan(s.Bulge)) / (math.Pi / 360))
		}
		for _, q := range finer(from, s, pieces) {
			pull(q)
		}
	}
	return trail
}

// finer returns points along a curve, in so many pieces at least.
func finer(from geometry.Point, s geometry.Segment, pieces float64) []geometry.Point {
	pts := s.AppendFlat(nil, from, 2e-5)
	if s.Kind != geometry.Arc || s.Straight() || float64(len(pts)) >= pieces {
		return pts
	}
	c, r, start, sweep := geometry.ArcCircle(from, s)
	pts = nil
	for i := 1.0; i <= pieces; i++ {
		sin, cos := math.Sincos(start + sweep*i/pieces)
		pts = append(pts, geometry.Pt(c.X+r*cos, c.Y+r*sin))
	}
	return pts
}

// chain finds how far points lie from a line of chords.
type chain struct {
	pts    []geometry.Point
	corner geometry.Point
	across int
	cells  [][]int32 // chords by the cells that their boxes touch, row by row
}

const (
	cellMM  = 0.25
	besides = 0.1 // mm beside the line that are looked at
)

func chainOf(pts []geometry.Point) *chain {
	box := geometry.BoxAround(pts...).Grow(besides)
	c := &chain{pts: pts, corner: box.Min, across: int(box.Width()/cellMM) + 1}
	c.cells = make([][]int32, c.across*(int(box.Height()/cellMM)+1))
	for i := 1; i < len(pts); i++ {
		one := geometry.BoxAround(pts[i-1], pts[i]).Grow(besides)
		x0, y0 := c.cell(one.Min)
		x1, y1 := c.cell(one.Max)
		for y := max(y0, 0); y <= min(y1, len(c.cells)/c.across-1); y++ {
			for x := max(x0, 0); x <= min(x1, c.across-1); x++ {
				c.cells[y*c.across+x] = append(c.cells[y*c.across+x], int32(i))
			}
		}
	}
	return c
}

func (c *chain) cell(p geometry.Point) (x, y int) {
	d := p.Sub(c.corner)
	return int(math.Floor(d.X / cellMM)), int(math.Floor(d.Y / cellMM))
}

// from returns how far p lies from the chain, endless where that is over 0.1 mm.
func (c *chain) from(p geometry.Point) float64 {
	best := math.Inf(1)
	x, y := c.cell(p)
	if x < 0 || y < 0 || x >= c.across || y*c.across+x >= len(c.cells) {
		return best
	}
	for _, i := range c.cells[y*c.across+x] {
		a, d := c.pts[i-1], c.pts[i].Sub(c.pts[i-1])
		t := 0.0
		if n := d.Dot(d); n > 0 {
			t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
		}
		off := p.Sub(a.Add(d.Mul(t)))
		best = math.Min(best, off.Dot(off))
	}
	return math.Sqrt(best)
}

// between is how far two lines of chords leave each other at most.
func between(a, b []geometry.Point) float64 {
	worst := 0.0
	for _, pair := range [2][2][]geometry.Point{{a, b}, {b, a}} {
		other := chainOf(pair[1])
		for i, p := range pair[0] {
			worst = math.Max(worst, other.from(p))
			if i == 0 {
				continue
			}
			for n, k := math.Ceil(pair[0][i-1].Dist(p)/0.1), 1.0; k < n; k++ {
				worst = math.Max(worst, other.from(pair[0][i-1].Lerp(p, k/n)))
			}
		}
	}
	return worst
}
