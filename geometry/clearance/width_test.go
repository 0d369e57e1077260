package clearance_test

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
)

func rings(t testing.TB, data string) [][]geometry.Point {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil {
		t.Fatal(err)
	}
	var out [][]geometry.Point
	for _, p := range paths {
		pts := p.Flatten(0.001)
		out = append(out, pts[:len(pts)-1])
	}
	return out
}

// Local widths of shapes whose widths are known by construction: within 0.5 %
// and 0.1 mm of place, wherever the shape lies and however it is turned.
func TestLeastWidths(t *testing.T) {
	// The narrowest circle that touches both slanted sides of a wedge with
	// half angle θ and a blunt end of width a touches the end too: its radius
	// is a/2·cos θ/(1 − sin θ), its centre that far from the end.
	const half = 5 * math.Pi / 180
	blunt := 1 / 2.0 * math.Cos(half) / (1 - math.Sin(half))
	wedgeTop := 1/2.0 + 40*math.Tan(half)
	for _, c := range []struct {
		name  string
		data  string
		width float64
		at    func(p geometry.Point) float64 // distance from where it may lie
	}{
		{"rectangle", "M0 0H100V8H0Z", 8, func(p geometry.Point) float64 {
			return math.Hypot(p.Y-4, math.Max(0, math.Max(4-p.X, p.X-96)))
		}},
		{"annulus", "M30 0A30 30 0 1 1 -30 0A30 30 0 1 1 30 0Z M24 0A24 24 0 1 1 -24 0A24 24 0 1 1 24 0Z", 6, func(p geometry.Point) float64 {
			return math.Abs(p.Norm() - 27)
		}},
		{"annulus off centre", "M30 0A30 30 0 1 1 -30 0A30 30 0 1 1 30 0Z M27 0A24 24 0 1 1 -21 0A24 24 0 1 1 27 0Z", 3, func(p geometry.Point) float64 {
			return p.Dist(geometry.Pt(28.5, 0))
		}},
		{"wedge", "M-" + num(wedgeTop) + " 40L-0.5 0H0.5L" + num(wedgeTop) + " 40Z", 2 * blunt, func(p geometry.Point) float64 {
			return p.Dist(geometry.Pt(0, blunt))
		}},
		{"dumbbell", "M0 1A10 10 0 1 1 0 -1H30A10 10 0 1 1 30 1Z", 2, func(p geometry.Point) float64 {
			return math.Hypot(p.Y, math.Max(0, math.Max(-p.X, p.X-30)))
		}},
		{"dumbbell with a waist", "M-20 -10L0 -1L20 -10V10L0 1L-20 10Z", 2, func(p geometry.Point) float64 {
			return p.Norm()
		}},
		{"slot", "M0 -5H60A5 5 0 0 1 60 5H0A5 5 0 0 1 0 -5Z", 10, func(p geometry.Point) float64 {
			return math.Hypot(p.Y, math.Max(0, math.Max(-p.X, p.X-60)))
		}},
		{"plate with a notch", "M0 0H50V20H26L25 3L24 20H0Z", 3, func(p geometry.Point) float64 {
			return p.Dist(geometry.Pt(25, 1.5))
		}},
		{"plate with a hole near its edge", "M0 0H50V50H0Z M20 2V30H30V2Z", 2, func(p geometry.Point) float64 {
			return math.Hypot(p.Y-1, math.Max(0, math.Max(20-p.X, p.X-30)))
		}},
		{"two notches that miss each other", "M0 0H9L10 6L11 0H50V20H15L14 8L13 20H0Z", math.Hypot(4, 2), func(p geometry.Point) float64 {
			return p.Dist(geometry.Pt(12, 7))
		}},
	} {
		for _, turn := range []float64{0, 0.3, math.Pi / 2, 2} {
			m := geometry.Rotate(turn).Then(geometry.Translate(1000, -200))
			back, _ := m.Inverse()
			var turned [][]geometry.Point
			for _, ring := range rings(t, c.data) {
				var pts []geometry.Point
				for _, p := range ring {
					pts = append(pts, m.Apply(p))
				}
				turned = append(turned, pts)
			}
			s := clearance.NewRegion(nil, turned...).Measure(nil, 0)
			if s.Least == nil {
				t.Errorf("%s turned by %g: no width", c.name, turn)
				continue
			}
			if math.Abs(s.Least.WidthMM-c.width) > 0.005*c.width {
				t.Errorf("%s turned by %g: width %.4f, want %.4f", c.name, turn, s.Least.WidthMM, c.width)
			}
			if off := c.at(back.Apply(s.Least.At)); off > 0.1 {
				t.Errorf("%s turned by %g: found at %v, %.3f mm off", c.name, turn, back.Apply(s.Least.At), off)
			}
		}
	}
}

func num(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// Corners are no strips: a square, a triangle and a long spike have no place
// narrower than their limit, however thin they end.
func TestCornersAreNoNecks(t *testing.T) {
	for _, data := range []string{
		"M0 0H10V10H0Z",
		"M0 0L40 0L20 30Z",
		"M0 0L100 2L0 4Z", // 2.3°
		"M0 0C30 0 60 1 100 2C60 3 30 4 0 4Z",
		"M0 0L20 1L40 0L39 20L40 40L20 39L0 40L1 20Z",
	} {
		if s := clearance.NewRegion(nil, rings(t, data)...).Measure(nil, 1.5); len(s.Necks) > 0 {
			t.Errorf("%s: neck of %.3f mm at %v", data, s.Necks[0].WidthMM, s.Necks[0].At)
		}
	}
}

// A dumbbell with a bar of 1 mm over 10 mm has one neck as long as the bar;
// two bars make two necks, the narrower first.
func TestNecks(t *testing.T) {
	s := clearance.NewRegion(nil, rings(t, "M0 -10H20V-0.5H30V-10H50V10H30V0.5H20V10H0Z")...).Measure(nil, 1.5)
	if len(s.Necks) != 1 {
		t.Fatalf("%d necks, want 1", len(s.Necks))
	}
	n := s.Necks[0]
	if math.Abs(n.WidthMM-1) > 0.005 || math.Abs(n.LengthMM-10) > 1 || math.Abs(n.At.Y) > 0.1 || n.At.X < 19.5 || n.At.X > 30.5 {
		t.Errorf("neck %+v, want 1 mm wide and 10 long between x 20 and 30", n)
	}
	s = clearance.NewRegion(nil, rings(t, "M0 -10H20V-0.5H30V-10H50V-0.4H60V-10H80V10H60V0.4H50V10H30V0.5H20V10H0Z")...).Measure(nil, 1.5)
	if len(s.Necks) != 2 || math.Abs(s.Necks[0].WidthMM-0.8) > 0.004 || math.Abs(s.Necks[1].WidthMM-1) > 0.005 {
		t.Errorf("necks %+v, want 0.8 and 1 mm", s.Necks)
	}
}

// By hand: a bar 1 mm wide and 30 long, 0.6 mm wide over 4 of them, between two
// plates. Below 1.5 mm it is one stretch of 30 mm and 28.4 mm², below 0.8 mm one
// of 4 mm and 2.4 mm², below 0.5 mm none.
func TestFinerNecks(t *testing.T) {
	s := clearance.NewRegion(nil, rings(t, "M0 -10H20V-0.5H33V-0.3H37V-0.5H50V-10H70V10H50V0.5H37V0.3H33V0.5H20V10H0Z")...).Measure(nil, 1.5, 0.8, 0.5)
	for i, want := range [][]clearance.Neck{{{LengthMM: 30, AreaMM2: 28.4}}, {{LengthMM: 4, AreaMM2: 2.4}}, nil} {
		got := s.Necks
		if i > 0 {
			got = s.Finer[i-1]
		}
		if len(got) != len(want) {
			t.Errorf("limit %d: %d necks, want %d", i, len(got), len(want))
			continue
		}
		for k, n := range got {
			if math.Abs(n.LengthMM-want[k].LengthMM) > 1 || math.Abs(n.AreaMM2/n.LengthMM-want[k].AreaMM2/want[k].LengthMM) > 0.05 {
				t.Errorf("limit %d: %+v, want %+v", i, n, want[k])
			}
		}
	}
}

// squareSpiral is a strip that winds outwards with four corners a turn.
func squareSpiral(corners int) []geometry.Point {
	var there, back []geometry.Point
	for i := range corners {
		d := float64(i/2 + 1)
		p := [4]geometry.Point{{X: d, Y: -d}, {X: d, Y: d}, {X: -d, Y: d}, {X: -d, Y: -d}}[i%4]
		there, back = append(there, p), append(back, p.Mul(1-0.3/d))
	}
	slices.Reverse(back)
	return append(there, back...)
}

// A spiral of few edges a turn is measured in steps that grow as it does: runs of its edges
// go round all that lies inside them. With such runs in one box four times the corners
// took eleven times the steps.
func TestSpiralOfFewEdgesATurn(t *testing.T) {
	steps := func(corners int) float64 {
		b := (*budget.Budget)(nil).Allow(math.MaxInt / 2)
		clearance.NewRegion(b, squareSpiral(corners)).Measure(b, 1)
		return float64(b.Spent())
	}
	few, many := steps(500), steps(2000)
	if many > 5*few {
		t.Errorf("%.0f steps for 500 corners, %.0f for 2,000", few, many)
	}
}
