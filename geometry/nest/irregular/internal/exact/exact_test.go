package exact_test

import (
	"math/rand"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/nest/irregular/internal/exact"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/planar"
)

// rings are a comb and a frame with a hole, in steps of the grid.
var rings = [][][]outline.Point{
	{{{X: 0, Y: 0}, {X: 90, Y: 5}, {X: 80, Y: 60}, {X: 60, Y: 20}, {X: 50, Y: 70}, {X: 30, Y: 20}, {X: 5, Y: 65}}},
	{{{X: 0, Y: 10}, {X: 80, Y: 0}, {X: 100, Y: 70}, {X: 10, Y: 90}}, {{X: 25, Y: 25}, {X: 30, Y: 70}, {X: 75, Y: 60}, {X: 65, Y: 20}}},
}

func body(kind int, x, y int64) exact.Body {
	r := rings[kind]
	o := outline.New(r, outline.Poles(r), r[0][0], r[0][0], 0)
	far := int64(1000)
	return exact.Body{Outline: o, X: x, Y: y, Low: outline.Point{X: -far, Y: -far}, High: outline.Point{X: far, Y: far}}
}

func region(b exact.Body) planar.Region {
	var r planar.Region
	for _, ring := range b.Rings {
		var out []geometry.Point
		for _, p := range ring {
			out = append(out, geometry.Pt(float64(p.X+b.X), float64(p.Y+b.Y)))
		}
		r.Rings = append(r.Rings, out)
	}
	return r
}

// TestDisjoint compares with the planar kernel, at a millimetre for each step so
// that its own rounding plays no part.
func TestDisjoint(t *testing.T) {
	random := rand.New(rand.NewSource(2))
	for range 400 {
		a := body(random.Intn(2), 0, 0)
		b := body(random.Intn(2), random.Int63n(220)-110, random.Int63n(220)-110)
		common, err := planar.Intersection(nil, region(a), region(b))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := exact.Disjoint(nil, []exact.Body{a, b}), common.Area() == 0; got != want {
			t.Errorf("at %d, %d: disjoint: %v; common area %v", b.X, b.Y, got, common.Area())
		}
	}
}

func TestOutsideItsLimitsIsNotDisjoint(t *testing.T) {
	a := body(0, 0, 0)
	a.High.Y = -1
	if exact.Disjoint(nil, []exact.Body{a}) {
		t.Error("a body above its limit passes")
	}
}

// TestResolve moves bodies apart that overlap a little.
func TestResolve(t *testing.T) {
	random := rand.New(rand.NewSource(3))
	tried := 0
	for tried < 50 {
		a := body(random.Intn(2), 0, 0)
		b := body(random.Intn(2), random.Int63n(220)-110, random.Int63n(220)-110)
		near := b
		near.X, near.Y = b.X*103/100, b.Y*103/100
		if exact.Disjoint(nil, []exact.Body{a, b}) || !exact.Disjoint(nil, []exact.Body{a, near}) {
			continue
		}
		tried++
		both := []exact.Body{a, b}
		if !exact.Resolve(nil, both, 6, 0.8) || !exact.Disjoint(nil, both) {
			t.Errorf("at %d, %d: not resolved", b.X, b.Y)
		}
	}
}

// TestSettle lets a body sink: it touches then, and one step lower overlaps.
func TestSettle(t *testing.T) {
	for x := int64(-80); x <= 80; x += 7 {
		floor := body(0, 0, 0)
		floor.Low = outline.Point{X: 0, Y: 0}
		floor.High = floor.Low
		both := []exact.Body{floor, body(1, x, 400)}
		exact.Settle(nil, both)
		if !exact.Disjoint(nil, both) {
			t.Errorf("at %d: sinks too far", x)
		}
		both[1].Y--
		if both[1].Y >= both[1].Low.Y && exact.Disjoint(nil, both) {
			t.Errorf("at %d: could sink further", x)
		}
	}
}
