package knife_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/knife"

	"pgregory.net/rapid"
)

// drag pulls a blade of offset d along the axis path and returns where its tip
// goes: the tractrix of the path. The axis moves in steps so short that the
// pull along the blade is exact but for their squares. The tip moves along
// the blade only: it cannot slip sideways in the film.
func drag(axis geometry.Path, tip geometry.Point, d float64) []geometry.Point {
	const step = 2e-4 // mm
	trail := []geometry.Point{tip}
	pts := axis.Flatten(1e-6)
	for i := 1; i < len(pts); i++ {
		n := math.Ceil(pts[i-1].Dist(pts[i]) / step)
		for k := 1.0; k <= n; k++ {
			s := pts[i-1].Lerp(pts[i], k/n)
			tip = s.Sub(s.Sub(tip).Unit().Mul(d))
			if k == n || int(k)%50 == 0 {
				trail = append(trail, tip)
			}
		}
	}
	return trail
}

// axisOf returns the way of the axis that a blade is to cut a line with.
func axisOf(b *budget.Budget, k knife.Blade, line geometry.Path, heading geometry.Point, rounds int) geometry.Path {
	var axis geometry.Path
	axis.Start, _ = k.Follow(b, line, heading, rounds, func(p knife.Piece) { axis.Segments = append(axis.Segments, p.Axis) })
	return axis
}

// straying returns how far the trail leaves the line at most.
func straying(trail []geometry.Point, line geometry.Path) float64 {
	pts := line.Flatten(1e-5)
	worst := 0.0
	for _, p := range trail {
		best := math.Inf(1)
		for i := 1; i < len(pts); i++ {
			d := pts[i].Sub(pts[i-1])
			t := math.Max(0, math.Min(1, p.Sub(pts[i-1]).Dot(d)/math.Max(d.Dot(d), 1e-300)))
			best = math.Min(best, p.Dist(pts[i-1].Add(d.Mul(t))))
		}
		worst = math.Max(worst, best)
	}
	return worst
}

func path(t testing.TB, data string) geometry.Path {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil || len(paths) != 1 {
		t.Fatalf("%q: %v, %d paths", data, err, len(paths))
	}
	return paths[0]
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f within %g", what, got, want, tol)
	}
}

var knifeLines = []string{
	"M0 0L20 0L20 10L0 10Z",                 // right angles
	"M0 0L30 0L2 1L30 2",                    // nearly turning back
	"M0 0A5 5 0 0 1 10 0A5 5 0 0 1 0 0Z",    // a circle
	"M0 0L10 0A3 3 0 0 0 16 0L20 5",         // line, arc, line with corners
	"M0 0C0 10 20 10 20 0C20 -4 12 -4 10 0", // Bézier curves
	"M0 0C10 10 0 10 10 0",                  // a curve with a cusp
	"M0 0L0.1 0L0.1 0.1L0.2 0.1L0.2 5",      // steps smaller than the offset
}

// The proof: a blade dragged along the path of the axis cuts the drawn line.
// The same blade dragged along the line itself does not, which shows that the
// check can fail.
func TestTheTipCutsTheLine(t *testing.T) {
	const strays = geometry.DefaultChord / 2 // as Axis promises
	for _, d := range []float64{0.25, 0.5, 0.75} {
		for _, data := range knifeLines {
			t.Run(fmt.Sprint(d, data), func(t *testing.T) {
				line := path(t, data)
				axis := axisOf(nil, knife.Blade{OffsetMM: d, OvercutMM: 0.5}, line, geometry.Point{}, 1)
				if got := straying(drag(axis, line.Start, d), line); got > strays {
					t.Errorf("the cut strays by %.4f mm", got)
				}
				start := line.Start.Sub(axis.Start.Sub(line.Start))
				if got := straying(drag(line, start, d)[1:], line); got < strays && len(line.Segments) > 1 {
					t.Errorf("an uncompensated cut strays by %.4f mm only", got)
				}
			})
		}
	}
}

// Straight pull (tractrix, Huygens): tan(θ/2) = tan(θ₀/2)·e^(−s/d) for the
// angle between blade and pull. It checks the integrator of this test.
func TestStraightPullFollowsTheTractrix(t *testing.T) {
	const d = 0.5
	for _, theta0 := range []float64{0.3, 1.2, 2.5} {
		for _, s := range []float64{0.2, 0.7, 2} {
			tip := geometry.Pt(-d*math.Cos(theta0), -d*math.Sin(theta0))
			trail := drag(geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(s, 0)), tip, d)
			v := geometry.Pt(s, 0).Sub(trail[len(trail)-1])
			got := math.Tan(math.Atan2(v.Y, v.X) / 2)
			near(t, fmt.Sprintf("θ₀ %g, s %g", theta0, s), got, math.Tan(theta0/2)*math.Exp(-s/d), 2e-3)
		}
	}
}

// The blade comes down as the stroke before left it; the lead-in turns it about
// the start, so the cut still begins there.
func TestLeadInTurnsTheBlade(t *testing.T) {
	const d = 0.25
	line := path(t, "M0 0L10 0L10 5")
	for _, deg := range []float64{0, 45, 90, 179, -120} {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		axis := axisOf(nil, knife.Blade{OffsetMM: d}, line, geometry.Pt(cos, sin), 1)
		near(t, "start", axis.Start.Dist(geometry.Pt(d*cos, d*sin)), 0, 1e-12)
		if got := straying(drag(axis, line.Start, d), line); got > 0.001 {
			t.Errorf("heading %g°: the cut strays by %.4f mm", deg, got)
		}
	}
}

// Turns that hardly change the tip are not made, one by one or added up; those
// that change it are. The circles are chords that turn by 3.6°: of a radius of 10 mm
// they lie 0.005 mm off the arc, of 80 mm 0.04 mm.
func TestTurnsThatChangeNothing(t *testing.T) {
	for _, c := range []struct {
		radius, offset float64
		most, least    int
	}{{3, 0.25, 0, 0}, {10, 0.25, 0, 0}, {5, 0.5, 0, 0}, {80, 0.25, 102, 98}, {80, 0.9, 102, 98}} {
		pts := make([]geometry.Point, 100)
		for i := range pts {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 100)
			pts[i] = geometry.Pt(c.radius*cos, c.radius*sin)
		}
		line, turns := geometry.Polygon(pts...), 0
		k := knife.Blade{OffsetMM: c.offset, OvercutMM: 0.6}
		k.Follow(nil, line, geometry.Point{}, 1, func(p knife.Piece) {
			if p.Turns {
				turns++
			}
		})
		if turns > c.most || turns < c.least {
			t.Errorf("radius %g, offset %g: %d turns, want %d to %d", c.radius, c.offset, turns, c.least, c.most)
		}
		if got := straying(drag(axisOf(nil, k, line, geometry.Point{}, 1), line.Start, c.offset), line); got > 0.0052 {
			t.Errorf("radius %g, offset %g: the cut strays by %.4f mm", c.radius, c.offset, got)
		}
	}
}

func TestOvercutAndRounds(t *testing.T) {
	for _, c := range []struct {
		data    string
		overcut float64
		rounds  int
		want    float64
	}{
		{"M0 0L10 0L10 10L0 10Z", 1.5, 1, 41.5},
		{"M0 0L10 0L10 10L0 10Z", 12, 1, 52}, // round the corner
		{"M0 0L10 0L10 10L0 10Z", 1.5, 3, 121.5},
		{"M0 0L10 0L10 10", 1.5, 3, 20}, // open: as it is
		{"M5 0A5 5 0 0 1 -5 0A5 5 0 0 1 5 0Z", 1, 1, 10*math.Pi + 1},
		{"M0 0C0 10 20 10 20 0L0 0Z", 2, 1, path(t, "M0 0C0 10 20 10 20 0L0 0Z").Length() + 2},
	} {
		blade := knife.Blade{OvercutMM: c.overcut} // no offset: the tip's own line
		near(t, c.data, axisOf(nil, blade, path(t, c.data), geometry.Point{}, c.rounds).Length(), c.want, 1e-4)
	}
}

// Random polygons, any offset: the cut stays on the line, but for turns that
// change the tip by less than 0.005 mm and are not made.
func TestPolygonsAreCutTrue(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 7).Draw(t, "n")
		pts := make([]geometry.Point, n)
		for i := range pts {
			pts[i] = geometry.Pt(rapid.Float64Range(0, 8).Draw(t, "x"), rapid.Float64Range(0, 8).Draw(t, "y"))
		}
		d := rapid.Float64Range(0.1, 1).Draw(t, "offset")
		line := geometry.Polygon(pts...)
		axis := axisOf(nil, knife.Blade{OffsetMM: d, OvercutMM: 0.5}, line, geometry.Point{}, 1)
		if got := straying(drag(axis, line.Start, d), line); got > 0.0052 {
			t.Fatalf("the cut strays by %.4f mm", got)
		}
	})
}
