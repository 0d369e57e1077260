package toolpath_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
)

func lines(t testing.TB, data ...string) []geometry.Path {
	t.Helper()
	var all []geometry.Path
	for _, d := range data {
		p, err := geometry.ParsePathData(d)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p...)
	}
	return all
}

func pass(rule toolpath.Rule, paths []geometry.Path) toolpath.Pass {
	return toolpath.Pass{Rule: rule, Lines: len(paths), Line: func(i int) geometry.Path { return paths[i] }}
}

// words writes moves in short: the kind, and for what cuts the segment and round.
func words(passes ...toolpath.Pass) string {
	kinds := map[toolpath.Kind]string{
		toolpath.Change: "change", toolpath.Travel: "travel", toolpath.Tie: "tie", toolpath.Lower: "down", toolpath.Lead: "lead",
		toolpath.Turn: "swing", toolpath.Swivel: "turn", toolpath.Cut: "cut", toolpath.Overcut: "over", toolpath.Lift: "up",
	}
	var all []string
	for m := range toolpath.Moves(nil, geometry.Point{}, passes) {
		word := kinds[m.Kind]
		if m.Kind == toolpath.Cut || m.Kind == toolpath.Overcut {
			word = fmt.Sprintf("%s%d.%d", word, m.Segment, m.Round)
		}
		all = append(all, word)
	}
	return strings.Join(all, " ")
}

// By hand: which moves a pass is made of.
func TestMovesByHand(t *testing.T) {
	square, corner := "M0 0H10V10H0Z", "M0 0H9V9"
	knifed := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 2}, Rounds: 1}
	twice := knifed
	twice.Rounds = 2
	bare := twice
	bare.OffsetByMachine, bare.OvercutByMachine = true, true
	dashes := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5}, DashMM: 4, TieMM: 2, Rounds: 1}
	again := dashes
	again.Rounds = 2
	lifted := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 2, LiftBelowDeg: 60}, Rounds: 1}
	liftedTwice := lifted
	liftedTwice.Rounds, liftedTwice.OvercutMM, liftedTwice.OffsetByMachine = 2, 0, true
	// 45° at its start and at its last corner, 90° between them.
	wedge := "M0 0H10V10Z"
	lead := pass(knifed, lines(t, "M0 0H9"))
	lead.Lead, lead.Changed = &toolpath.LeadIn{From: geometry.Pt(50, 50), To: geometry.Pt(50, 59)}, true
	for name, tt := range map[string]struct {
		passes []toolpath.Pass
		want   string
	}{
		"a pen":        {[]toolpath.Pass{pass(toolpath.Rule{Rounds: 1}, lines(t, square))}, "travel down cut0.0 cut1.0 cut2.0 cut3.0 up"},
		"a knife":      {[]toolpath.Pass{pass(knifed, lines(t, square))}, "travel down cut0.0 turn cut1.0 turn cut2.0 turn cut3.0 turn over0.0 up"},
		"twice round":  {[]toolpath.Pass{pass(twice, lines(t, "M5 0A5 5 0 0 1 -5 0A5 5 0 0 1 5 0Z"))}, "travel down cut0.0 cut1.0 cut0.1 cut1.1 over0.1 up"},
		"twice along":  {[]toolpath.Pass{pass(twice, lines(t, corner))}, "travel down cut0.0 turn cut1.0 up travel down turn cut0.1 turn cut1.1 up"},
		"lifted":       {[]toolpath.Pass{pass(lifted, lines(t, wedge))}, "travel down cut0.0 turn cut1.0 up swing down cut2.0 up swing down over0.0 up"},
		"lifted, bare": {[]toolpath.Pass{pass(liftedTwice.InFile(), lines(t, "M0 0H9", wedge))}, "travel down cut0.0 up travel down cut0.1 up travel down cut0.0 cut1.0 up swing down cut2.0 up swing down cut0.1 cut1.1 up swing down cut2.1 up"},
		// A machine that turns the lifted blade does so before each line too.
		"none to lift": {[]toolpath.Pass{pass(lifted, lines(t, "M0 0H9", "M9 9V0"))}, "travel down cut0.0 up travel down cut0.0 up"},
		"bare":         {[]toolpath.Pass{pass(bare.InFile(), lines(t, square))}, "travel down cut0.0 cut1.0 cut2.0 cut3.0 cut0.1 cut1.1 cut2.1 cut3.1 up"},
		// 18 mm: dashes at 0–4, 6–10 round the corner, 12–16.
		"dashes":       {[]toolpath.Pass{pass(dashes, lines(t, corner))}, "travel down cut0.0 up tie down cut0.0 turn cut1.0 up tie down cut1.0 up"},
		"dashes twice": {[]toolpath.Pass{pass(again, lines(t, "M0 0H6"))}, "travel down cut0.0 up travel down cut0.1 up"},
		"another tool": {[]toolpath.Pass{pass(knifed, lines(t, "M0 0H9")), lead}, "travel down cut0.0 up change travel down lead up travel down turn cut0.0 up"},
		"a lead-in":    {[]toolpath.Pass{lead}, "change travel down lead up travel down turn cut0.0 up"},
		// The heading is carried into the second pass, so it turns and has no lead-in.
		"carried": {[]toolpath.Pass{pass(knifed, lines(t, "M0 0H9")), {Rule: knifed, Lead: lead.Lead, Lines: 1, Line: func(int) geometry.Path { return lines(t, "M0 9V0")[0] }}},
			"travel down cut0.0 up travel down turn cut0.0 up"},
	} {
		if got := words(tt.passes...); got != tt.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, tt.want)
		}
	}
}

// Who stops listening hears no more, within a stroke and between passes.
func TestMovesEndWhenNobodyListens(t *testing.T) {
	one := pass(toolpath.Rule{Rounds: 3}, lines(t, "M0 0H9V9", "M0 0H9", "M3 3H9V9H3Z"))
	all := len(strings.Fields(words(one, one)))
	for n := 1; n <= all; n++ {
		heard := 0
		for range toolpath.Moves(nil, geometry.Point{}, []toolpath.Pass{one, one}) {
			if heard++; heard == n {
				break
			}
		}
		if heard != n {
			t.Fatalf("heard %d of %d", heard, n)
		}
	}
}

// Each move begins where the one before ended, and the tip follows the drawing.
func TestMovesJoin(t *testing.T) {
	rule := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 2}, Rounds: 2}
	at, tip := geometry.Point{}, geometry.Point{}
	for m := range toolpath.Moves(nil, geometry.Point{}, []toolpath.Pass{pass(rule, lines(t, "M10 10H30V20A5 5 0 0 1 20 20C20 30 10 30 10 20Z", "M40 40L41 41"))}) {
		if m.From != at {
			t.Fatalf("%+v begins off %v", m, at)
		}
		if m.Kind.Down() {
			if tip != m.Tip {
				t.Fatalf("%+v: the tip is at %v", m, tip)
			}
			tip = m.Drawn.End
		} else {
			tip = m.Tip
		}
		at = m.To()
	}
}

// A lead-in turns the blade, however it stood: within a thousandth of its offset
// but for one heading in ten thousand (straight pull, see LeadInLength).
func TestLeadInTurnsEveryBlade(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	missed := 0
	for range 100_000 {
		d := 0.25 + 0.65*random.Float64()
		sin, cos := math.Sincos(2 * math.Pi * random.Float64())
		p := knife.Pulled{OffsetMM: d, Heading: geometry.Pt(cos, sin)}
		p.To(geometry.Pt(toolpath.LeadInLength(d), 0))
		if math.Abs(math.Atan2(p.Heading.Y, p.Heading.X)) > 0.001 {
			missed++
		}
	}
	if missed > 10 {
		t.Errorf("%d of 100,000 headings are not turned", missed)
	}
}

// The tip is proved to stay on the line, and a blade that trails further than the
// moves were made for is seen to leave it.
func TestStrays(t *testing.T) {
	paths := lines(t, "M0 0H20V10H0Z", "M30 0A5 5 0 0 1 40 0A5 5 0 0 1 30 0Z", "M50 0C50 10 70 10 70 0", "M80 0L90 0L80 1")
	rule := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 0.6}, Rounds: 1}
	one := pass(rule, paths)
	one.Lead = &toolpath.LeadIn{From: geometry.Pt(0, -20), To: geometry.Pt(9, -20)}
	for _, tt := range []struct {
		blade, least, most float64
	}{{0.5, 0, 0.005}, {0.55, 0.03, 0.2}, {0.25, 0.1, 0.5}} {
		off, at := strays(nil, one, tt.blade)
		if !(off >= tt.least && off <= tt.most) {
			t.Errorf("a blade of %g mm strays by %g mm in %+v", tt.blade, off, at)
		}
	}
}

// strays is how far a blade leaves the lines of a pass, and where.
func strays(b *budget.Budget, one toolpath.Pass, offset float64) (float64, toolpath.Move) {
	var p toolpath.Proof
	for m := range toolpath.Moves(b, geometry.Point{}, []toolpath.Pass{one}) {
		p.See(b, &m, offset)
	}
	return p.WorstMM, p.At
}

func TestMovesStop(t *testing.T) {
	teeth := geometry.Path{}
	for i := range 2000 {
		teeth.Segments = append(teeth.Segments, geometry.LineTo(geometry.Pt(float64(i), float64(i%2)*20)))
	}
	paths := make([]geometry.Path, 40)
	for i := range paths {
		paths[i] = teeth
	}
	rule := toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5}, Rounds: 1}
	for name, compute := range map[string]func(*budget.Budget){
		"moves": func(b *budget.Budget) {
			for range toolpath.Moves(b, geometry.Point{}, []toolpath.Pass{pass(rule, paths)}) {
			}
		},
		"strays": func(b *budget.Budget) {
			strays(b, pass(rule, paths), 0.5)
		},
		"grid": func(b *budget.Budget) {
			grid := toolpath.Grid{Step: geometry.Pt(0.025, 0.025), ChordMM: 0.005}
			for m := range toolpath.Moves(b, geometry.Point{}, []toolpath.Pass{pass(rule, paths)}) {
				if m.Kind.Down() {
					grid.Down(b, nil, &m)
				} else if m.Kind == toolpath.Lower {
					grid.Lower(&m, 0.5)
				}
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error { return budget.Run(ctx, compute) })
		})
	}
}
