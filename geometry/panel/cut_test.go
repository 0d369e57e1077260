package panel_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/near"
	"knifedesk/geometry/panel"
)

// keptBy is what lies in an odd number of closed paths, by points of their flattenings.
func keptBy(work []geometry.Path) panel.Kept {
	var rings [][]geometry.Point
	for _, p := range work {
		rings = append(rings, p.Flatten(0.001))
	}
	return func(_ *budget.Budget, p geometry.Point) bool { return near.Inside(p, rings...) }
}

func always(int) bool { return true }

// By hand: what of simple shapes is cut in a panel.
func TestLinesOfAPanel(t *testing.T) {
	box := geometry.Box{Min: geometry.Pt(-1, -1), Max: geometry.Pt(50, 101)}
	square := geometry.Box{Max: geometry.Pt(100, 100)}.Path()
	for _, c := range []struct {
		name, work string
		want       []string // area of what is closed, length of what is open
	}{
		{"half a square", square.String(), []string{"5000"}},
		{"a square with a hole across the seam", square.String() + "M30 40H70V60H30Z", []string{"4600"}},
		{"a square with a hole inside", square.String() + "M10 40H20V60H10Z", []string{"5000", "200"}},
		{"a shape whose edge lies on the side", "M0 0H50V100H0Z", []string{"5000"}},
		{"a shape beyond whose edge lies on the side", "M50 0H90V100H50Z", nil},
		{"a corner that touches the side from inside", "M20 0L50 50L20 100Z", []string{"1500"}},
		{"a corner that touches the side from outside", "M80 0L50 50L80 100Z", nil},
		{"a comb", "M80 0V100H20V80H70V70H20V50H70V40H20V0Z", []string{"600", "600", "1200"}},
		{"an open line", "M0 10H100", []string{"length 50"}},
		{"half a circle", geometry.Circle(geometry.Pt(50, 50), 40).String(), []string{fmt.Sprintf("%.0f", math.Pi*800)}},
		{"an arch with its top on the side", "M10 10C60 10 60 90 10 90Z", []string{"2400"}},
	} {
		work, err := geometry.ParsePathData(c.work)
		if err != nil {
			t.Fatal(err)
		}
		closed := func(i int) bool { return work[i].Closed }
		var got []string
		for _, l := range panel.Cut(nil, work, closed, box, keptBy(work)) {
			if l.Path.Closed {
				got = append(got, fmt.Sprintf("%.0f", math.Abs(l.Path.Area())))
			} else {
				got = append(got, fmt.Sprintf("length %.0f", l.Path.Length()))
			}
		}
		if fmt.Sprint(sorted(got)) != fmt.Sprint(sorted(c.want)) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func sorted(all []string) []string {
	out := strings.Fields(strings.Join(all, " "))
	for i := range out {
		for k := range i {
			if out[i] < out[k] {
				out[i], out[k] = out[k], out[i]
			}
		}
	}
	return out
}

// What lies whole in a panel is left as it is, and curves stay curves.
func TestCurvesStayExact(t *testing.T) {
	circle := geometry.Circle(geometry.Pt(50, 50), 40)
	if got := panel.Clip(nil, circle, geometry.Box{Max: geometry.Pt(100, 100)}); len(got) != 1 || got[0].String() != circle.String() {
		t.Errorf("a circle inside becomes %v", got)
	}
	for _, run := range panel.Clip(nil, circle, geometry.Box{Min: geometry.Pt(0, 0), Max: geometry.Pt(60, 100)}) {
		for _, s := range run.Segments {
			if s.Kind != geometry.Arc {
				t.Errorf("an arc becomes %+v", s)
			}
		}
		if got := run.Length(); math.Abs(got-2*40*(math.Pi-math.Acos(0.25))) > 1e-9 {
			t.Errorf("%.12g mm of the circle", got)
		}
	}
}

// A panel of much work is left off in time.
func TestCutStops(t *testing.T) {
	var work []geometry.Path
	for i := range 4000 {
		for k := range 20 {
			work = append(work, geometry.Circle(geometry.Pt(float64(k)*3, float64(i)*3), 1.4))
		}
	}
	box := geometry.Box{Min: geometry.Pt(-5, -5), Max: geometry.Pt(30, 13000)}
	kept := func(b *budget.Budget, p geometry.Point) bool { b.Step(); return math.Mod(p.Y, 3) < 1.4 }
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) { panel.Cut(b, work, always, box, kept) })
	})
}
