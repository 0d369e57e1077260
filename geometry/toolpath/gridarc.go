package toolpath

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// arcLooks is at how many places of an arc the tip is looked at.
const arcLooks = 8

// Run appends the segments of a move with the tool down. With Arcs an arc stays one,
// about a point of the grid, where the tip comes no farther off by it than by rounding
// a point, √½ of a step; it ends where it ends, which is on the grid by chance alone.
func (g *Grid) Run(b *budget.Budget, segs []geometry.Segment, m *Move) []geometry.Segment {
	if g.Arcs && m.Kind != Lead && m.Axis.Kind == geometry.Arc && !m.Axis.Straight() {
		if arc, ok := g.arc(b, m); ok {
			return append(segs, arc)
		}
	}
	for _, p := range g.Down(b, nil, m) {
		segs = append(segs, geometry.LineTo(p))
	}
	return segs
}

// arc pulls the blade along the best arc about a point of the grid near the centre, and
// reports whether that is good enough.
func (g *Grid) arc(b *budget.Budget, m *Move) (geometry.Segment, bool) {
	centre, _, start, sweep := geometry.ArcCircle(m.From, m.Axis)
	var best geometry.Segment
	least := g.Step.X * g.Step.Y / 2
	g.around(centre, func(c geometry.Point) {
		b.Spend(4 * arcLooks)
		from, to := g.blade.Axis.Sub(c), m.Axis.End.Sub(c)
		turn := sweep + math.Remainder(math.Atan2(to.Y, to.X)-math.Atan2(from.Y, from.X)-sweep, 2*math.Pi)
		if turn == 0 || turn*sweep < 0 || math.Abs(turn) > math.Pi {
			return
		}
		sin, cos := math.Sincos(turn)
		arc := geometry.ArcTo(math.Tan(turn/4), c.Add(from.Mul(cos)).Add(from.Perp().Mul(sin)))
		if off := g.farthest(m, arc, centre, start, sweep); off < least {
			best, least = arc, off
		}
	})
	if best == (geometry.Segment{}) {
		return best, false
	}
	g.blade.Round(best)
	return best, true
}

// farthest is how far the blade comes off at most, as by off, while it is pulled along an
// arc instead of the axis of a move about a centre.
func (g *Grid) farthest(m *Move, arc geometry.Segment, centre geometry.Point, start, sweep float64) float64 {
	radius, worst := m.From.Dist(centre), 0.0
	for i := 1.0; i <= arcLooks; i++ {
		share, to := i/arcLooks, g.blade
		first, _ := knife.Split(g.blade.Axis, arc, share)
		to.Round(first)
		if g.blade.OffsetMM <= 0 {
			to.Axis = first.End
		}
		sin, cos := math.Sincos(start + sweep*share)
		worst = math.Max(worst, g.off(to, centre.Add(geometry.Pt(radius*cos, radius*sin)), m.tipAt(share)))
	}
	return worst
}
