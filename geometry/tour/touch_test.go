package tour_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/tour"
)

func TestOnOther(t *testing.T) {
	chords := chordsOf([]geometry.Path{
		geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(10, 0)), geometry.Polyline(geometry.Pt(5, 0), geometry.Pt(5, 9)),
	})
	for _, c := range []struct {
		own  int
		at   geometry.Point
		want bool
	}{
		{0, geometry.Pt(5, 0.01), true}, // both lie there
		{1, geometry.Pt(5, 0.01), true},
		{0, geometry.Pt(2, 0), false}, // it lies on itself alone
		{1, geometry.Pt(2, 0), true},
		{1, geometry.Pt(5, 5), false},
		{1, geometry.Pt(2, 0.06), false}, // too far off
	} {
		for last := -1; last < 2; last++ {
			if got := chords.OnOther(nil, c.own, c.at, 0.05, last); (got >= 0) != c.want || got == c.own {
				t.Errorf("%v of %d: %d", c.at, c.own, got)
			}
		}
	}
}

// Where lines meet in one point, looking for what goes on past the end of each after that
// of the one before takes a few steps, however many they are.
func TestOnOtherWhereManyMeet(t *testing.T) {
	spent := func(n int) float64 {
		lines := make([]geometry.Path, n)
		at := func(i int, r float64) geometry.Point {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			return geometry.Pt(r*cos, r*sin)
		}
		for i := range lines {
			lines[i] = geometry.Polyline(geometry.Pt(0, 0), at(i, 240))
		}
		chords := chordsOf(lines)
		var none *budget.Budget
		b, last := none.Allow(1<<30), -1
		for i := range lines {
			if last = chords.OnOther(b, i, at(i, -0.2), 0.02, last); last < 0 {
				t.Fatalf("nothing goes on past line %d of %d", i, n)
			}
		}
		return float64(b.Spent()) / float64(n)
	}
	if few, many := spent(1000), spent(8000); many > 1.2*few {
		t.Errorf("steps a line grew from %.1f of 1,000 to %.1f of 8,000", few, many)
	}
}

func chordsOf(lines []geometry.Path) *tour.Chords {
	cs := make([]tour.Contour, len(lines))
	for i := range lines {
		cs[i] = tour.NewContour(nil, lines[i])
	}
	return tour.NewChords(nil, cs)
}
