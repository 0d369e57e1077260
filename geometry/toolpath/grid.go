package toolpath

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// Grid runs moves on the points of a grid, as for a format that counts whole
// steps. Rounding the axis point by point would let the tip stray by more than a
// step, since it sums up what the axis is off. Each point is therefore chosen so
// that the tip, pulled along those chosen before, comes nearest to its place.
type Grid struct {
	Step    geometry.Point // between points across and along, in mm
	ChordMM float64        // how far the chords of a curve may stray
	Arcs    bool           // arcs stay arcs, where the format has them
	blade   knife.Pulled
	known   bool // how the blade stands
}

// axisWeight is how much the axis being off counts beside the tip: it is where the
// tip goes next.
const axisWeight = 0.15

// Lower returns the point on which the tool is let down. first is the move after
// it, and offset that of the blade; without one the point is the nearest.
func (g *Grid) Lower(m *Move, offset float64) geometry.Point {
	g.blade.OffsetMM = offset
	if m.Line < 0 || offset <= 0 {
		g.blade.Axis = g.nearest(m.From)
		return g.blade.Axis
	}
	if !g.known {
		g.blade.Heading, g.known = m.From.Sub(m.Tip).Unit(), true
	}
	best, least := geometry.Point{}, math.Inf(1)
	g.around(m.From, func(q geometry.Point) {
		if off := g.off(knife.Pulled{OffsetMM: offset, Axis: q, Heading: g.blade.Heading}, m.From, m.Tip); off < least {
			best, least = q, off
		}
	})
	g.blade.Axis = best
	return best
}

// Change says that another tool is in the holder, whose heading nobody knows.
func (g *Grid) Change() { g.known = false }

// Down appends the points of a move with the tool down.
func (g *Grid) Down(b *budget.Budget, pts []geometry.Point, m *Move) []geometry.Point {
	if m.Kind == Lead {
		to := g.nearest(m.To())
		g.blade.Heading, g.known, g.blade.Axis = to.Sub(g.blade.Axis).Unit(), true, to
		return append(pts, to)
	}
	flat := m.Axis.AppendFlat(nil, m.From, g.ChordMM)
	for i, axis := range flat {
		b.Spend(4)
		next, ok := g.next(axis, m.tipAt(float64(i+1)/float64(len(flat))))
		if ok {
			g.blade = next
			pts = append(pts, next.Axis)
		}
	}
	return pts
}

// next pulls the blade to the best point near the axis, and reports whether it is
// another one.
func (g *Grid) next(axis, tip geometry.Point) (knife.Pulled, bool) {
	if g.blade.OffsetMM <= 0 {
		to := knife.Pulled{Axis: g.nearest(axis)}
		return to, to.Axis != g.blade.Axis
	}
	var best knife.Pulled
	least := math.Inf(1)
	g.around(axis, func(q geometry.Point) {
		to := g.blade
		to.To(q)
		if off := g.off(to, axis, tip); off < least {
			best, least = to, off
		}
	})
	return best, best.Axis != g.blade.Axis
}

// off weighs how far a blade is from where it belongs.
func (g *Grid) off(p knife.Pulled, axis, tip geometry.Point) float64 {
	t, a := p.Tip().Sub(tip), p.Axis.Sub(axis)
	return t.Dot(t) + axisWeight*a.Dot(a)
}

func (g *Grid) nearest(p geometry.Point) geometry.Point {
	return geometry.Pt(math.Round(p.X/g.Step.X)*g.Step.X, math.Round(p.Y/g.Step.Y)*g.Step.Y)
}

// around calls do with the nine points of the grid about p.
func (g *Grid) around(p geometry.Point, do func(geometry.Point)) {
	x, y := math.Round(p.X/g.Step.X), math.Round(p.Y/g.Step.Y)
	for dx := -1.0; dx <= 1; dx++ {
		for dy := -1.0; dy <= 1; dy++ {
			do(geometry.Pt((x+dx)*g.Step.X, (y+dy)*g.Step.Y))
		}
	}
}

// tipAt returns where the tip belongs after a share of the move.
func (m *Move) tipAt(share float64) geometry.Point {
	switch {
	case share == 1:
		return m.Drawn.End
	case m.Drawn.Kind == geometry.Arc && !m.Drawn.Straight():
		c, r, start, sweep := geometry.ArcCircle(m.Tip, m.Drawn)
		sin, cos := math.Sincos(start + sweep*share)
		return c.Add(geometry.Pt(r*cos, r*sin))
	case m.Drawn.Kind == geometry.Cubic:
		return geometry.CubicAt(m.Tip, m.Drawn, share)
	}
	return m.Tip.Lerp(m.Drawn.End, share)
}
