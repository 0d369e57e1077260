package motion_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/motion"
)

// The marks of a motion are where it is at their times, the last at its end; who looks at
// some of them only is told no more.
func TestMarks(t *testing.T) {
	line := geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(30, 0), geometry.Pt(30, 0), geometry.Pt(30, 20), geometry.Pt(0, 20))
	run := motion.Axes{SpeedMMS: 180, AccelMMS2: 900}.Along(nil, line, 100)
	last, at, n := -1.0, geometry.Point{}, 0
	for s, p := range run.Marks() {
		if s <= last || run.At(s).Dist(p) > 1e-9 {
			t.Errorf("mark %d: at %v after %g s, which is %v", n, p, s, run.At(s))
		}
		last, at, n = s, p, n+1
	}
	if n < 4 || at.Dist(line.End()) > 1e-9 || math.Abs(last-run.Time()) > 1e-9 {
		t.Errorf("%d marks, the last at %v after %g of %g s", n, at, last, run.Time())
	}
	for few := range n {
		seen := 0
		for range run.Marks() {
			if seen++; seen > few {
				break
			}
		}
		if seen != few+1 {
			t.Errorf("%d marks seen, want %d", seen, few+1)
		}
	}
}
