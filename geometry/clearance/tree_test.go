package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/geometrytest/cost"
)

// slanted is a comb of long teeth, turned by an angle: boxes along the axes would
// all overlap.
func slanted(teeth int, angle float64) []geometry.Point {
	sin, cos := math.Sincos(angle)
	turn := func(x, y float64) geometry.Point { return geometry.Pt(x*cos-y*sin, x*sin+y*cos) }
	pts := []geometry.Point{turn(float64(teeth)+1, -5), turn(-1, -5)}
	for i := range teeth {
		x := float64(i)
		pts = append(pts, turn(x, 0), turn(x, 90), turn(x+0.5, 90), turn(x+0.5, 0))
	}
	return pts
}

// What the tree finds is what a look at every edge finds (a loop over all edges,
// written here): the nearest point, what a ray meets first, whether a line is
// clear, and on which side of the boundary a point lies.
func TestTreeFindsWhatAllEdgesHold(t *testing.T) {
	dice := rand.New(rand.NewPCG(20, 9))
	for _, ring := range [][]geometry.Point{slanted(40, 0), slanted(40, 0.6), slanted(40, math.Pi/2), traced(500), slanted(4, 1)} {
		r := clearance.NewRegion(nil, ring)
		box := r.Bounds().Grow(3)
		somewhere := func() geometry.Point {
			return box.Min.Add(geometry.Pt(dice.Float64()*box.Width(), dice.Float64()*box.Height()))
		}
		for range 300 {
			p, q := somewhere(), somewhere()
			least, gap, first := math.Inf(1), math.Inf(1), math.Inf(1)
			u := q.Sub(p).Unit()
			inside := false
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				least = math.Min(least, clearance.Gap(p, p.Add(geometry.Pt(1e-12, 0)), a, b))
				gap = math.Min(gap, clearance.Gap(p, q, a, b))
				first = math.Min(first, met(p, u, a, b))
				if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
					inside = !inside
				}
			}
			if foot, ok := r.Nearest(nil, p, math.Inf(1)); !ok || math.Abs(foot.Dist-least) > 1e-9 {
				t.Fatalf("nearest to %v at %g, want %g", p, foot.Dist, least)
			}
			if hit, ok := r.Cast(nil, p, u, 1000); ok == math.IsInf(first, 1) || ok && math.Abs(hit.Dist-first) > 1e-9 {
				t.Fatalf("from %v along %v met at %g, want %g", p, u, hit.Dist, first)
			}
			if gap > 0 && (!r.Clear(nil, p, q, gap*0.999) || r.Clear(nil, p, q, gap*1.001)) {
				t.Fatalf("%v to %v: not clear by its gap of %g", p, q, gap)
			}
			if gap == 0 && r.Clear(nil, p, q, 1e-9) {
				t.Fatalf("%v to %v: clear across an edge", p, q)
			}
			if r.Inside(nil, p) != inside {
				t.Fatalf("%v inside: %v", p, !inside)
			}
		}
	}
}

// met returns how far along the ray from p the line a to b lies, +Inf: nowhere.
func met(p, u, a, b geometry.Point) float64 {
	d := b.Sub(a)
	along, across := a.Sub(p).Cross(d)/u.Cross(d), a.Sub(p).Cross(u)/u.Cross(d)
	if along <= 0 || across < 0 || across > 1 {
		return math.Inf(1)
	}
	return along
}

// thereAndBack is a zigzag as a ring that runs back close beside its way, from its
// second corner on: along its length the corners rise and then fall again.
func thereAndBack(n int) []geometry.Point {
	pts := make([]geometry.Point, n)
	for i := range n / 2 {
		p := geometry.Pt(470*float64(i)/float64(n/2), 460*float64(i%2))
		pts[i], pts[n-1-i] = p, p.Add(geometry.Pt(235/float64(n/2), 5))
	}
	return append(pts[1:], pts[0])
}

// A region is made ready in about the time of another of as many corners, whatever
// the order of these: when the middle one parted them always, this one took 20 times
// that of the other.
func TestTreeOfCornersThereAndBack(t *testing.T) {
	cost.Unwatched(t)
	const corners = 60_000
	ready := func(ring []geometry.Point) time.Duration {
		least := time.Hour
		for range 3 {
			start := cost.Spent()
			clearance.NewRegion(nil, ring)
			least = min(least, cost.Spent()-start)
		}
		return least
	}
	plain, folded := ready(traced(corners)), ready(thereAndBack(corners))
	t.Logf("a traced ring %v, a zigzag there and back %v", plain, folded)
	if folded > 6*plain {
		t.Errorf("a zigzag takes %v, a traced ring %v", folded, plain)
	}
}
