package clearance_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// Two squares 4 mm apart in a frame 3 mm off: a tie to the frame for each
// would take 6 mm; so does one of 3 and none between them of 4.
func TestTiesOfTwoSquares(t *testing.T) {
	_, ties := clearance.Slit(nil, rings(t, "M0 0H30V16H0Z M3 3H13V13H3Z M17 3H27V13H17Z")...)
	sum := 0.0
	for _, tie := range ties {
		sum += tie.Length()
		if tie.From.X != tie.To.X && tie.From.Y != tie.To.Y {
			t.Errorf("tie %v to %v slants where a straight one is as short", tie.From, tie.To)
		}
	}
	if len(ties) != 2 || math.Abs(sum-6) > 1e-9 {
		t.Errorf("%d ties of %g mm, want 2 of 6", len(ties), sum)
	}
}

// Of ties of one length the straight one is taken, and the level one of two
// straight ones, whichever sides they are on and however the rings are drawn.
func TestTiesAreStraightAndLevel(t *testing.T) {
	for name, c := range map[string]struct {
		data         string
		level, lines int
	}{
		"equal gaps left and below":  {"M0 0H40V40H0Z M5 5H20V20H5Z", 1, 1},
		"equal gaps right and above": {"M0 0H40V40H0Z M20 20H35V35H20Z", 1, 1},
		"equal gaps left and above":  {"M0 0H40V40H0Z M5 20H20V35H5Z", 1, 1},
		"equal gaps right and below": {"M0 0H40V40H0Z M20 5H35V20H20Z", 1, 1},
		"equal gaps all round":       {"M0 0H40V40H0Z M5 5H35V35H5Z", 1, 1},
		// The slanting side of the frame is as far from a corner as the level
		// one is from a side: 5 mm, with x + y = 85 + 5·√2 along it.
		"slanting or straight": {"M0 0H60V32.071067811865474L22.071067811865474 70H0Z M20 5H40V45H20Z", 0, 1},
		"two in a row":         {"M0 0H65V30H0Z M5 5H30V25H5Z M35 5H60V25H35Z", 2, 2},
	} {
		all := rings(t, c.data)
		for range 2 {
			_, ties := clearance.Slit(nil, all...)
			level := 0
			for _, tie := range ties {
				if math.Abs(tie.From.Y-tie.To.Y) < 1e-9 {
					level++
				} else if math.Abs(tie.From.X-tie.To.X) > 1e-9 {
					t.Errorf("%s: tie %v to %v slants", name, tie.From, tie.To)
				}
			}
			if level != c.level || len(ties) != c.lines {
				t.Errorf("%s: %d of %d ties are level, want %d of %d", name, level, len(ties), c.level, c.lines)
			}
			for _, ring := range all {
				slices.Reverse(ring)
			}
			slices.Reverse(all[1:])
		}
	}
}

// Slit along its ties, a region is one walk of the same area, and as much
// longer as both sides of the ties.
func TestOpenKeepsAreaAndWalksTiesTwice(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		all := [][]geometry.Point{{geometry.Pt(-60, -60), geometry.Pt(60, -60), geometry.Pt(60, 60), geometry.Pt(-60, 60)}}
		for _, c := range []geometry.Point{{X: -30, Y: -30}, {X: 30, Y: -30}, {X: 30, Y: 30}, {X: -30, Y: 30}, {X: 0, Y: 0}} {
			if rapid.Bool().Draw(t, "here") {
				all = append(all, star(t, c, 20))
			}
		}
		walk, ties := clearance.Slit(nil, all...)
		loop := walk.Points
		length := clearance.NewRegion(nil, all...).Length()
		for _, tie := range ties {
			length += 2 * tie.Length()
		}
		want := area(all[0])
		for _, hole := range all[1:] {
			want -= area(hole)
		}
		if len(ties) != len(all)-1 || math.Abs(area(loop)-want) > 1e-6 || math.Abs(clearance.NewRegion(nil, loop).Length()-length) > 1e-6 {
			t.Fatalf("%d ties, area %g, length %g; want %d, %g, %g",
				len(ties), area(loop), clearance.NewRegion(nil, loop).Length(), len(all)-1, want, length)
		}
	})
}

// Every side of a slit walk lies on the side of the rings that it is said to run along,
// whichever way the rings came, and those along one side together are as long as it is.
func TestSlitTellsWhatItsSidesRunAlong(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		all := [][]geometry.Point{{geometry.Pt(-60, -60), geometry.Pt(60, -60), geometry.Pt(60, 60), geometry.Pt(-60, 60)}}
		for _, c := range []geometry.Point{{X: -30, Y: -30}, {X: 30, Y: -30}, {X: 30, Y: 30}, {X: -30, Y: 30}} {
			if rapid.Bool().Draw(t, "here") {
				all = append(all, star(t, c, 20))
			}
		}
		if rapid.Bool().Draw(t, "square") {
			all = append(all, []geometry.Point{{X: -2, Y: -2}, {X: -2, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: -2}})
		}
		var sides [][2]geometry.Point
		var missing []float64
		for _, ring := range all {
			if rapid.Bool().Draw(t, "turned") {
				slices.Reverse(ring)
			}
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				sides, missing = append(sides, [2]geometry.Point{p, q}), append(missing, p.Dist(q))
			}
		}
		walk, ties := clearance.Slit(nil, all...)
		along := 0.0
		for i, p := range walk.Points {
			q := walk.Points[(i+1)%len(walk.Points)]
			on := walk.On[i]
			if on == clearance.NoSide {
				along += p.Dist(q)
				continue
			}
			if off := math.Max(p.DistToSegment(sides[on][0], sides[on][1]), q.DistToSegment(sides[on][0], sides[on][1])); off > 1e-9 {
				t.Fatalf("side %d lies %g mm off side %d of the rings", i, off, on)
			}
			missing[on] -= p.Dist(q)
		}
		for on, left := range missing {
			if math.Abs(left) > 1e-9 {
				t.Fatalf("side %d of the rings: %g mm are missing", on, left)
			}
		}
		for _, tie := range ties {
			along -= 2 * tie.Length()
		}
		if math.Abs(along) > 1e-9 {
			t.Fatalf("%g mm more than the ties run along no side", along)
		}
	})
}

func area(ring []geometry.Point) float64 { return geometry.Polygon(ring...).Area() }

// A ray ends where sampling first leaves the region, and a segment is clear by
// as much as its samples are.
func TestCastAndClear(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		ring, hole := star(t, geometry.Pt(0, 0), 50), star(t, geometry.Pt(0, 0), 8)
		r := clearance.NewRegion(nil, ring, hole)
		from := geometry.Pt(rapid.Float64Range(-25, 25).Draw(t, "x"), rapid.Float64Range(-25, 25).Draw(t, "y"))
		if !r.Inside(nil, from) {
			return
		}
		sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle"))
		dir := geometry.Pt(cos, sin)
		hit, ok := r.Cast(nil, from, dir, 200)
		if !ok {
			t.Fatal("the ray left the region unseen")
		}
		for k := 1.0; k < 100; k++ {
			if at := hit.Dist * k / 100; !r.Inside(nil, from.Add(dir.Mul(at))) && at < hit.Dist-1e-6 {
				t.Fatalf("outside at %g, before the hit at %g", at, hit.Dist)
			}
		}
		// Where the ray meets a corner it may only clip the tip, and be inside again at once.
		atCorner := slices.ContainsFunc(slices.Concat(ring, hole), func(p geometry.Point) bool { return p.Dist(hit.Point) < 1e-4 })
		if !atCorner && r.Inside(nil, from.Add(dir.Mul(hit.Dist+1e-6))) {
			t.Fatalf("still inside beyond the hit at %g", hit.Dist)
		}
		to := from.Add(dir.Mul(hit.Dist / 2))
		near := math.Inf(1)
		for k := range 200 {
			near = math.Min(near, sampled(from.Lerp(to, float64(k)/200), ring, hole))
		}
		if near > 0.5 && (!r.Clear(nil, from, to, near-0.5) || r.Clear(nil, from, to, near+0.5)) {
			t.Fatalf("clear by about %g, told otherwise", near)
		}
	})
}

// Ties among dots inside a frame take few steps for each side, though the box of the frame
// holds all the dots and is near each of them: 46 before the sides of a frame were looked at
// in place of its box.
func TestTiesInsideAFrame(t *testing.T) {
	const rows, corners = 40, 12
	all := rings(t, "M-105 -105H505V505H-105Z")
	dice := rand.New(rand.NewPCG(7, 16))
	for i := range rows * rows {
		ring := make([]geometry.Point, corners)
		at := geometry.Pt(10*(float64(i%rows)+dice.Float64()/3), 10*(float64(i/rows)+dice.Float64()/3))
		for k := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / corners)
			ring[k] = at.Add(geometry.Pt(cos, sin).Mul(3))
		}
		all = append(all, ring)
	}
	b := (*budget.Budget)(nil).Allow(math.MaxInt / 2)
	_, ties := clearance.Slit(b, all...)
	if per := float64(b.Spent()) / (rows * rows * corners); per > 40 || len(ties) != rows*rows {
		t.Errorf("%.1f steps for each side, %d ties", per, len(ties))
	}
}
