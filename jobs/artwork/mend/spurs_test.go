package mend_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// An end is a spur where it goes on for 0.05 to 1 mm past a crossing with another line,
// and never otherwise: of 3,000 pairs of slanting lines near each other's ends, against
// the crossing worked out here by Cramer's rule. Pairs that are within 0.03 mm of being
// otherwise say nothing.
func TestSpursAreTailsPastACrossing(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	at := func(far float64) geometry.Point {
		sin, cos := math.Sincos(2 * math.Pi * random.Float64())
		return geometry.Pt(far*cos, far*sin)
	}
	const doubt = 0.03
	clear := func(v float64, limits ...float64) bool {
		for _, l := range limits {
			if math.Abs(v-l) < doubt {
				return false
			}
		}
		return true
	}
	told, none := 0, 0
	for range 3000 {
		end := geometry.Pt(50, 50).Add(at(1))
		a := [2]geometry.Point{end.Add(at(4 + 8*random.Float64())), end}
		from := end.Add(at(2 * random.Float64()))
		b := [2]geometry.Point{from, from.Add(at(0.3 + 6*random.Float64()))}
		u, v, w := a[1].Sub(a[0]), b[1].Sub(b[0]), b[0].Sub(a[0])
		det := u.X*v.Y - u.Y*v.X
		if math.Abs(det) < 0.2*u.Norm()*v.Norm() {
			continue // along each other
		}
		s, r := (w.X*v.Y-w.Y*v.X)/det*u.Norm(), (w.X*u.Y-w.Y*u.X)/det*v.Norm() // mm along each to where their lines cross
		if !clear(s, 0, u.Norm()) || !clear(r, 0, v.Norm()) {
			continue
		}
		want, sure := 0, true
		if s > 0 && s < u.Norm() && r > 0 && r < v.Norm() {
			for _, tail := range []float64{s, u.Norm() - s, r, v.Norm() - r} {
				sure = sure && clear(tail, 0.05, 1)
				if tail > 0.05 && tail < 1 {
					want++
				}
			}
		}
		if !sure {
			continue
		}
		if want > 0 {
			told++
		} else {
			none++
		}
		lines := []artwork.Stroke{stroke(geometry.Polyline(a[:]...)), stroke(geometry.Polyline(b[:]...))}
		if got := mend.CheckEnds(nil, lines, mend.DefaultLimits()).Spurs.Count; got != want {
			t.Errorf("%q have %d spurs, want %d", paths(lines), got, want)
		}
	}
	if told < 300 || none < 300 {
		t.Errorf("%d pairs have spurs, %d none", told, none)
	}
}

// Two outlines are one line drawn as its two sides where they keep the same distance up to
// 1 mm all round, and that distance is told; corners count less than sides. By hand: frames
// and circles in each other, some of which keep no distance or another one.
func TestDoublesKeepTheirDistance(t *testing.T) {
	box := func(by float64) geometry.Path {
		return geometry.Box{Min: geometry.Pt(-by, -by), Max: geometry.Pt(40+by, 25+by)}.Path()
	}
	for _, c := range []struct {
		name  string
		paths [2]geometry.Path
		width float64 // 0: they are no double
	}{
		{"frames", [2]geometry.Path{box(0), box(0.4)}, 0.4}, {"frames, the outer one first", [2]geometry.Path{box(0.7), box(0)}, 0.7},
		{"frames too far apart", [2]geometry.Path{box(0), box(1.5)}, 0},
		{"circles", [2]geometry.Path{geometry.Circle(geometry.Pt(5, 5), 20), geometry.Circle(geometry.Pt(5, 5), 19.5)}, 0.5},
		{"small circles", [2]geometry.Path{geometry.Circle(geometry.Pt(5, 5), 1), geometry.Circle(geometry.Pt(5, 5), 0.8)}, 0.2},
		{"circles off centre", [2]geometry.Path{geometry.Circle(geometry.Pt(5, 5), 20), geometry.Circle(geometry.Pt(5.3, 5), 19.5)}, 0},
		{"a frame, further to one side", [2]geometry.Path{box(0.6), box(0).Transform(geometry.Translate(0.3, 0.3))}, 0},
	} {
		doubles, spots := mend.Doubles(nil, []artwork.Stroke{stroke(c.paths[0]), stroke(c.paths[1])}, mend.DefaultLimits())
		switch {
		case len(doubles) != spots.Count || c.width == 0 && len(doubles) > 0 || c.width > 0 && len(doubles) != 1:
			t.Errorf("%s: %+v, %+v", c.name, doubles, spots)
		case c.width > 0 && math.Abs(doubles[0].WidthMM-c.width) > 0.01:
			t.Errorf("%s: %g mm apart, want %g", c.name, doubles[0].WidthMM, c.width)
		}
	}
}
