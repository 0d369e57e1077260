package irregular_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/geometry/nest/irregular"
	"knifedesk/geometry/planar"
)

// rect returns a rectangle from a corner, of a size.
func rect(x, y, w, h float64) planar.Polygon {
	return planar.Polygon{Outer: []geometry.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}
}

// frame returns a square with a square hole in its middle.
func frame(outer, hole float64) planar.Polygon {
	p := rect(0, 0, outer, outer)
	d := (outer - hole) / 2
	p.Holes = [][]geometry.Point{{{X: d, Y: d}, {X: d, Y: d + hole}, {X: d + hole, Y: d + hole}, {X: d + hole, Y: d}}}
	return p
}

func piece(n int, turns []irregular.Turn, area ...planar.Polygon) irregular.Piece {
	return irregular.Piece{Area: area, Demand: n, Turns: turns}
}

var (
	straight  []irregular.Turn
	half      = []irregular.Turn{{}, {Degrees: 180}}
	quarters  = []irregular.Turn{{}, {Degrees: 90}, {Degrees: 180}, {Degrees: 270}}
	ell       = planar.Polygon{Outer: []geometry.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 40}, {X: 0, Y: 40}}}
	triangle  = planar.Polygon{Outer: []geometry.Point{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 0, Y: 60}}}
	apartPair = []planar.Polygon{rect(0, 0, 20, 20), rect(40, 0, 20, 20)}
)

func against(cost float64) []irregular.Turn {
	return []irregular.Turn{{}, {Degrees: 90, CostMM: cost}}
}

func strip(width float64, pieces ...irregular.Piece) irregular.Problem {
	return irregular.Problem{Sheet: irregular.Sheet{WidthMM: width}, Pieces: pieces}
}

// cases have answers found by hand: no shorter ones exist, by area or by the
// length of a piece, unless said otherwise.
var cases = []struct {
	name   string
	p      irregular.Problem
	change func(*irregular.Problem)
	sheets int
	length float64
}{
	{"squares that just fit", strip(100, piece(4, straight, rect(0, 0, 50, 50))), nil, 1, 100},
	{"triangles make squares", strip(120, piece(4, quarters, triangle)), nil, 1, 60},
	{"two angles make a rectangle", strip(40, piece(2, half, ell)), nil, 1, 60},
	{"frame in frame in frame", strip(80, piece(1, straight, frame(80, 60)), piece(1, straight, frame(58, 40)), piece(1, straight, rect(0, 0, 38, 38))), nil, 1, 80},
	{"frame in frame, with clearance", strip(80, piece(1, straight, frame(80, 60)), piece(1, straight, frame(58, 40)), piece(1, straight, rect(0, 0, 38, 38))),
		func(p *irregular.Problem) { p.ClearanceMM = 0.9 }, 1, 80},
	{"clearance and edge", strip(88, piece(4, straight, rect(0, 0, 40, 40))),
		func(p *irregular.Problem) { p.ClearanceMM, p.EdgeMM = 2, 3 }, 1, 88},
	{"between the parts of a group", strip(60, piece(1, straight, apartPair...), piece(1, straight, rect(0, 0, 20, 20))), nil, 1, 20},
	{"not into the hull of a group", strip(60, piece(1, straight, apartPair...), piece(1, straight, rect(0, 0, 20, 20))),
		func(p *irregular.Problem) { p.Pieces[0].Hull = true }, 1, 40},
	{"against the grain, for little", strip(60, piece(1, against(5), rect(0, 0, 30, 50))), nil, 1, 30},
	{"with the grain, since turning costs more than it saves", strip(60, piece(1, against(25), rect(0, 0, 30, 50))), nil, 1, 50},
	{"turned, where that is worth it", strip(80, piece(3, quarters[:2], rect(0, 0, 30, 50))),
		func(p *irregular.Problem) { p.WorthMM = 30 }, 1, 60},
	{"all alike, where turning is not worth it", strip(80, piece(3, quarters[:2], rect(0, 0, 30, 50))),
		func(p *irregular.Problem) { p.WorthMM = 50 }, 1, 100},
	{"two sheets", strip(100, piece(5, straight, rect(0, 0, 50, 50))),
		func(p *irregular.Problem) { p.Sheet.LengthMM = 100 }, 2, 50},
	{"zones are left free", strip(100, piece(3, straight, rect(0, 0, 50, 50))),
		func(p *irregular.Problem) {
			p.Sheet.LengthMM, p.Sheet.Zones = 100, planar.Polygons{rect(0, 0, 50, 50)}
		}, 1, 100},
	{"zones on both sheets", strip(100, piece(4, straight, rect(0, 0, 50, 50))),
		func(p *irregular.Problem) {
			p.Sheet.LengthMM, p.Sheet.Zones = 100, planar.Polygons{rect(0, 0, 50, 50)}
		}, 2, 50},
}

func TestCases(t *testing.T) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if c.change != nil {
				c.change(&c.p)
			}
			l, err := irregular.Nest(nil, c.p, irregular.Options{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			check(t, c.p, l)
			if l.Sheets != c.sheets || math.Abs(l.LengthMM-c.length) > 1e-9 {
				t.Errorf("%d sheets, %v mm; by hand %d, %v mm", l.Sheets, l.LengthMM, c.sheets, c.length)
			}
			if l.LeastSheets > l.Sheets || l.LeastSheets == l.Sheets && l.LeastMM > l.LengthMM+1e-9 {
				t.Errorf("bound %d sheets, %v mm is none: %d, %v mm", l.LeastSheets, l.LeastMM, l.Sheets, l.LengthMM)
			}
		})
	}
}

// mixed is a problem without a simple answer.
func mixed() irregular.Problem {
	p := strip(150, piece(6, quarters, ell), piece(5, []irregular.Turn{{}, {Degrees: 30}, {Degrees: 200}}, triangle), piece(2, quarters, frame(50, 35)), piece(3, half, apartPair...))
	p.ClearanceMM, p.EdgeMM = 1.5, 2
	return p
}

// The race detector looks at the streams beside each other for some seconds: what
// they come to is compared without it.
func TestSameOnOneProcessorAndOnTwo(t *testing.T) {
	if cost.Watched {
		ctx, stop := context.WithTimeout(t.Context(), 5*time.Second)
		defer stop()
		_ = budget.Run(ctx, func(b *budget.Budget) { _, _ = irregular.Nest(b, mixed(), irregular.Options{Seed: 3}) })
		return
	}
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	one, err := irregular.Nest(nil, mixed(), irregular.Options{Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	check(t, mixed(), one)
	runtime.GOMAXPROCS(2)
	two, err := irregular.Nest(nil, mixed(), irregular.Options{Seed: 3})
	if err != nil || !reflect.DeepEqual(one, two) {
		t.Errorf("%v; on one processor %+v, on two %+v", err, one, two)
	}
}

// TestStart begins with a layout that is as short as any, which has to stay.
func TestStart(t *testing.T) {
	p := strip(100, piece(2, straight, rect(0, 0, 100, 10)), piece(1, straight, frame(90, 40)))
	start := []irregular.Placement{{}, {Copy: 1, YMM: 10}, {Piece: 1, XMM: 10, YMM: 20}}
	l, err := irregular.Nest(nil, p, irregular.Options{Start: start})
	if err != nil || l.LengthMM != 110 {
		t.Errorf("%v, %v mm; the start has 110", err, l.LengthMM)
	}
	start[1].YMM = 9.9999 // overlaps: no layout
	l, err = irregular.Nest(nil, p, irregular.Options{Start: start})
	if err != nil || l.LengthMM < 110 {
		t.Errorf("%v, %v mm", err, l.LengthMM)
	}
	check(t, p, l)
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		p    irregular.Problem
		want error
	}{
		{strip(50, piece(1, straight, rect(0, 0, 60, 10))), irregular.ErrTooWide},
		{strip(50, piece(1, straight, rect(0, 0, 0, 10))), irregular.ErrEmpty},
		{strip(-1, piece(1, straight, rect(0, 0, 60, 10))), irregular.ErrSize},
		{strip(math.NaN(), piece(1, straight, rect(0, 0, 60, 10))), irregular.ErrSize},
		{irregular.Problem{Sheet: irregular.Sheet{WidthMM: 50, LengthMM: 50, Zones: planar.Polygons{rect(10, 10, 30, 30)}}, Pieces: []irregular.Piece{piece(1, straight, rect(0, 0, 20, 20))}}, irregular.ErrNoRoom},
	} {
		if _, err := irregular.Nest(nil, c.p, irregular.Options{}); !errors.Is(err, c.want) {
			t.Errorf("%v, not %v", err, c.want)
		}
	}
	if l, err := irregular.Nest(nil, strip(50), irregular.Options{}); err != nil || len(l.Placements) > 0 {
		t.Errorf("nothing to nest: %v, %v", l, err)
	}
}
