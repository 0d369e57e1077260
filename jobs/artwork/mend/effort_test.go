package mend_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// mendAll runs everything that looks at lines.
func mendAll(strokes []artwork.Stroke, e *mend.Effort) {
	lim := mend.DefaultLimits()
	mended := mend.Lines(e, strokes, mend.Options{Limits: lim, Unite: true}).Strokes
	mend.CheckEnds(e, mended, lim)
	mend.Doubles(e, mended, lim)
	mend.TooCrossed(e, mended)
}

// Drawings whose lines lie apart take a share that grows with their segments,
// however many there are.
func TestEffortGrowsWithSegments(t *testing.T) {
	for _, n := range []int{100, 1000, 10_000, 100_000, 300_000} {
		strokes := loose(n)
		e := mend.NewEffort(nil, mend.Segments(strokes))
		mendAll(strokes, e)
		if c := e.Crowd(); c != nil || e.Looks() > 300*n {
			t.Errorf("%d segments take %d looks, %+v", n, e.Looks(), c)
		}
	}
}

// chords are lines from the left side of a square of 100 to its right side.
func chords(n int) []artwork.Stroke {
	r := rand.New(rand.NewPCG(3, 4))
	all := make([]artwork.Stroke, n)
	for i := range all {
		p := geometry.Polyline(geometry.Pt(0, 100*r.Float64()), geometry.Pt(100, 100*r.Float64()))
		all[i] = artwork.Stroke{Path: p, Operation: artwork.ThroughCut, Shape: i}
	}
	return all
}

// The effort ends when it is used up, wherever that is, and says where the
// lines are too dense.
func TestEffortEnds(t *testing.T) {
	strokes := chords(20_000)
	e := mend.NewEffort(nil, len(strokes))
	mendAll(strokes, e)
	c := e.Crowd()
	if c == nil {
		t.Fatalf("%d lines that cross each other take %d looks", len(strokes), e.Looks())
	}
	if spent := float64(e.Looks()) / float64(c.Allowed); spent > 1.1 {
		t.Errorf("%.2f times the looks allowed were taken", spent)
	}
	if c.At.Width() < 99 || !(geometry.Box{Max: geometry.Pt(100, 100)}).Grow(2).ContainsBox(c.At) {
		t.Errorf("most at %+v", c.At)
	}
}

// triangles are closed lines with corners on the points of a small grid, so
// that many run over each other along a part of their sides.
func triangles(n int) []artwork.Stroke {
	r := rand.New(rand.NewPCG(5, 6))
	corner := func() geometry.Point { return geometry.Pt(float64(r.IntN(20)), float64(r.IntN(20))) }
	all := make([]artwork.Stroke, n)
	for i := range all {
		all[i] = artwork.Stroke{Path: geometry.Polygon(corner(), corner(), corner()), Operation: artwork.ThroughCut, Shape: i}
	}
	return all
}

// grid is n lines each way; the middles of their boxes lie in two rows.
func grid(n int) []artwork.Stroke {
	var all []artwork.Stroke
	for i := range n {
		v := float64(i) / 10
		for _, p := range []geometry.Path{geometry.Polyline(geometry.Pt(0, v), geometry.Pt(90, v)), geometry.Polyline(geometry.Pt(v, 0), geometry.Pt(v, 90))} {
			all = append(all, artwork.Stroke{Path: p, Operation: artwork.ThroughCut, Shape: len(all)})
		}
	}
	return all
}

// Lines take the same looks in whatever order they come, so that near the limit
// the order does not decide.
func TestEffortIsThatOfTheLines(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for name, strokes := range map[string][]artwork.Stroke{"triangles": triangles(150), "grid": grid(150)} {
		want := 0
		for range 4 {
			e := mend.NewEffort(nil, len(strokes))
			mendAll(mend.InOrder(nil, strokes), e)
			if want == 0 {
				want = e.Looks()
			}
			if e.Looks() != want {
				t.Errorf("%s: %d looks in one order, %d in another", name, want, e.Looks())
			}
			r.Shuffle(len(strokes), func(i, k int) { strokes[i], strokes[k] = strokes[k], strokes[i] })
		}
	}
}

// Of n lines from side to side each pair crosses that changes its order: as
// many as there are inversions, on average n(n−1)/4, with a variance of
// n(n−1)(2n+5)/72 (Knuth, The Art of Computer Programming 3, 5.1.1).
func TestCrossingsAreCounted(t *testing.T) {
	limit := float64(mend.MostCrossings)
	most := math.Sqrt(4 * limit) // lines with as many crossings on average
	for share, want := range map[float64]bool{0.95: false, 1.05: true} {
		if got := mend.TooCrossed(nil, chords(int(share*most))) != nil; got != want {
			t.Errorf("%.0f lines: too many crossings %v, want %v", share*most, got, want)
		}
	}
	// The line that most others cross is where it is too dense.
	var comb []artwork.Stroke
	for i := range mend.MostCrossings + 1 {
		x := float64(i) / 1000
		comb = append(comb, artwork.Stroke{Path: geometry.Polyline(geometry.Pt(x, -1), geometry.Pt(x, 1)), Operation: artwork.ThroughCut})
	}
	spine := geometry.Polyline(geometry.Pt(-1, 0), geometry.Pt(limit, 0))
	if c := mend.TooCrossed(nil, append(comb, artwork.Stroke{Path: spine, Operation: artwork.ThroughCut})); c == nil || c.At != spine.Bounds() {
		t.Errorf("a comb: %+v, want %v", c, spine.Bounds())
	}
	// Lines that only touch, or lie on each other, do not cross.
	ring := chords(1)
	for range 1000 {
		ring = append(ring, ring[0])
	}
	for i := range 1000 {
		from := geometry.Pt(50, 200)
		ring = append(ring, artwork.Stroke{Path: geometry.Polyline(from, geometry.Pt(float64(i)/10, 300)), Operation: artwork.ThroughCut})
	}
	if c := mend.TooCrossed(nil, ring); c != nil {
		t.Errorf("lines that touch: %+v", c)
	}
	pen := chords(2000)
	for i := range pen {
		pen[i].Operation = artwork.Pen
	}
	if c := mend.TooCrossed(nil, pen); c != nil {
		t.Errorf("lines of the pen: %+v", c)
	}
}
