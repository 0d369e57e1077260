package toolpath_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
)

// pursued is a blade that follows its axis in steps of 2 µm, each straight at it: a
// law of its own beside that of the code (the curve of pursuit, a tractrix).
type pursued struct{ axis, tip geometry.Point }

func (p *pursued) to(q geometry.Point, offset float64) {
	from := p.axis
	n := math.Ceil(from.Dist(q) / 0.002)
	for i := 1.0; i <= n; i++ {
		p.axis = from.Lerp(q, i/n)
		p.tip = p.axis.Sub(p.axis.Sub(p.tip).Unit().Mul(offset))
	}
	p.axis = q
}

// On a grid the tip still ends where each piece of the line ends: of lines, arcs
// and curves within three quarters of a step, and the axis within two. The bound
// is what rounding alone (√½ of a step) may cost, as it is not to sum up.
func TestGridKeepsTheTip(t *testing.T) {
	const step, offset = 0.025, 0.5
	rule := toolpath.Rule{Blade: knife.Blade{OffsetMM: offset}, Rounds: 1}
	drawn := lines(t, "M0 0L13.01 1.02 20.03 8.04 8.05 12.06Z", "M30 0A7.7 7.7 0 0 1 41.01 9.02A3 3 0 1 0 44.03 9.04", "M50 0C53 9 61 -4 64.05 3.06", "M-9.99 -3.33H-0.02")
	grid := toolpath.Grid{Step: geometry.Pt(step, step), ChordMM: 0.005}
	var p pursued
	var pts []geometry.Point
	n := 0
	for m := range toolpath.Moves(nil, geometry.Point{}, []toolpath.Pass{pass(rule, drawn)}) {
		switch {
		case m.Kind == toolpath.Change:
			grid.Change()
		case m.Kind == toolpath.Lower:
			known := p != (pursued{})
			heading := p.axis.Sub(p.tip)
			at := grid.Lower(&m, offset)
			if !known {
				heading = m.From.Sub(m.Tip)
			}
			p = pursued{at, at.Sub(heading.Unit().Mul(offset))}
		case m.Kind.Down():
			pts = grid.Down(&budget.Budget{}, pts[:0], &m)
			for _, q := range pts {
				if r := geometry.Pt(math.Round(q.X/step)*step, math.Round(q.Y/step)*step); q.Dist(r) > 1e-9 {
					t.Fatalf("%v is not on the grid", q)
				}
				p.to(q, offset)
			}
			if d := p.axis.Dist(m.To()); d > 2*step {
				t.Errorf("line %d, segment %d: the axis is %v mm off", m.Line, m.Segment, d)
			}
			if m.Kind != toolpath.Cut {
				continue
			}
			n++
			if d := p.tip.Dist(m.Drawn.End); d > 0.75*step {
				t.Errorf("line %d, segment %d: the tip is %v mm off", m.Line, m.Segment, d)
			}
		}
	}
	if n < 8 {
		t.Errorf("only %d pieces were cut", n)
	}
}

// By hand, on a grid of 1 mm with a blade of 0.9 mm that points up: let down at
// (0.4 0) with the tip due at (−0.5 0), the axis does best at (0 1), from where the
// tip is at (0 0.1); the nearest point would leave it at (0 −0.9). Before a lead-in,
// without a blade, and with a new one in the holder it is the nearest.
func TestGridLetsTheToolDown(t *testing.T) {
	turned := func() *toolpath.Grid {
		g := &toolpath.Grid{Step: geometry.Pt(1, 1), ChordMM: 0.1}
		g.Lower(&toolpath.Move{Line: -1, From: geometry.Pt(0, -5)}, 0.9)
		g.Down(&budget.Budget{}, nil, &toolpath.Move{Kind: toolpath.Lead, Line: -1, From: geometry.Pt(0, -5), Axis: geometry.LineTo(geometry.Pt(0, -2))})
		return g
	}
	cut := toolpath.Move{From: geometry.Pt(0.4, 0), Tip: geometry.Pt(-0.5, 0)}
	lead := cut
	lead.Line = -1
	changed := turned()
	changed.Change()
	for _, c := range []struct {
		name   string
		grid   *toolpath.Grid
		move   toolpath.Move
		offset float64
		want   geometry.Point
	}{
		{"a blade that points up", turned(), cut, 0.9, geometry.Pt(0, 1)}, {"a lead-in", turned(), lead, 0.9, geometry.Pt(0, 0)},
		{"a pen", turned(), cut, 0, geometry.Pt(0, 0)}, {"a new blade", changed, cut, 0.9, geometry.Pt(0, 0)},
	} {
		if got := c.grid.Lower(&c.move, c.offset); got.Dist(c.want) > 1e-9 {
			t.Errorf("%s is let down at %v, want %v", c.name, got, c.want)
		}
	}
}
