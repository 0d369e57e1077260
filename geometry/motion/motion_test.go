package motion_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/motion"

	"pgregory.net/rapid"
)

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

// Check values, row 48: v 200, a 1000; both formulas agree at L = v²/a.
func TestMoveTime(t *testing.T) {
	near(t, "100 mm", motion.MoveTime(100, 200, 1000), 0.700, 1e-9)
	near(t, "20 mm", motion.MoveTime(20, 200, 1000), 0.28284, 5e-6)
	near(t, "40 mm", motion.MoveTime(40, 200, 1000), 0.400, 1e-9)
	near(t, "just above 40 mm", motion.MoveTime(40+1e-9, 200, 1000), 0.400, 1e-6)
	near(t, "nothing", motion.MoveTime(0, 200, 1000), 0, 0)
}

// Check values, row 49: a 100 × 50 rectangle with stops at its corners, v 100,
// a 500. The corners of our model are rounded within 0.01 mm, which saves a
// little. By hand: the arc at a right angle has the radius R = 0.01·c/(1−c) with
// c = cos 45° and takes R from both legs; its speed is √(a·R), since an axis is
// across it at either end, and its length πR/2.
func TestRectangleWithStops(t *testing.T) {
	m := motion.Axes{SpeedMMS: 400, AccelMMS2: 500}
	stops := 0.0
	for _, side := range []string{"M0 0L100 0", "M100 0L100 50", "M100 50L0 50", "M0 50L0 0"} {
		stops += m.PathTime(nil, path(t, side), 100)
	}
	near(t, "with stops", stops, 3.8, 1e-9)
	c := math.Sqrt(0.5)
	r := 0.01 * c / (1 - c)
	v := math.Sqrt(500 * r)
	// Of 300 mm, three arcs take 2R each, and each of six ends that are no stop
	// saves v/a − v²/2a/100.
	want := 3.8 - 6*r/100 - 6*(v/500-v*v/1000/100) + 3*math.Pi/2*r/v
	near(t, "through the corners", m.PathTime(nil, path(t, "M0 0L100 0L100 50L0 50Z"), 100), want, 1e-9)
}

// Along a diagonal both axes work: √2 of the speed limit and acceleration of
// one. By hand.
func TestAxisLimits(t *testing.T) {
	m := motion.Axes{SpeedMMS: 50, AccelMMS2: 1000}
	near(t, "diagonal", m.PathTime(nil, path(t, "M0 0L70 70"), 1000), motion.MoveTime(70, 50, 1000), 1e-9)
	near(t, "setting slower than the axes", m.PathTime(nil, path(t, "M0 0L70 0"), 20), motion.MoveTime(70, 20, 1000), 1e-9)
}

// On a circle the speed is bounded by v²/R = a (elementary mechanics); the
// polygon's corners come within a per cent of it.
func TestCircleIsRunAtItsCentripetalSpeed(t *testing.T) {
	m := motion.Axes{SpeedMMS: 1e4, AccelMMS2: 1000}
	const r, turns = 10.0, 50
	circle := geometry.Circle(geometry.Pt(0, 0), r)
	long := geometry.Path{Start: circle.Start}
	for range turns {
		long.Segments = append(long.Segments, circle.Segments...)
	}
	got := m.PathTime(nil, long, 1e4)
	want := turns * 2 * math.Pi * r / math.Sqrt(1000*r)
	if got < want*0.80 || got > want*1.03 {
		t.Errorf("%d turns in %.3f s; at √(aR) throughout it is %.3f s", turns, got, want)
	}
}

// A line cut into pieces takes as long as the whole, and no path is faster
// than its length at full speed.
func TestPathTimeProperties(t *testing.T) {
	m := motion.Axes{SpeedMMS: 300, AccelMMS2: 800}
	property.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-100, 100)
		n := rapid.IntRange(2, 12).Draw(t, "n")
		pts := make([]geometry.Point, n)
		for i := range pts {
			pts[i] = geometry.Pt(coord.Draw(t, "x"), coord.Draw(t, "y"))
		}
		split := []geometry.Point{pts[0]}
		for i := 1; i < n; i++ {
			split = append(split, pts[i-1].Lerp(pts[i], 0.3), pts[i])
		}
		whole, parts := m.PathTime(nil, geometry.Polyline(pts...), 120), m.PathTime(nil, geometry.Polyline(split...), 120)
		// A point between may be off the line by a rounding error, which is a
		// corner of its own; hence the relative bound.
		if math.Abs(whole-parts) > 1e-3*whole {
			t.Fatalf("whole %.9f s, in parts %.9f s", whole, parts)
		}
		if length := geometry.Polyline(pts...).Length(); whole < length/120-1e-9 {
			t.Fatalf("%.3f mm in %.3f s is faster than 120 mm/s", length, whole)
		}
	})
}
