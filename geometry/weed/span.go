package weed

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// pairLongerThan is the length of a stencil island, in mm, above which it gets
// two bridges: one would let it swing.
const pairLongerThan = 10

// slantCost is how many widths of length a contour costs at one end of a
// bridge for running along it instead of across it.
const slantCost = 3

// span is a place for a bridge across a removed region: a strip with straight
// sides from one ring to another.
type span struct {
	middle geometry.Point
	sides  [2][2]geometry.Point // right and left of the way from rings[0] to rings[1]
	rings  [2]int
	cost   float64 // mm; the length, and more for what disturbs
}

// spans finds places for bridges of the given width from every hole of the
// region. They are sorted by cost, the least first.
func spans(r *clearance.Region, width float64) []span {
	var all []span
	limit := r.Bounds().Width() + r.Bounds().Height()
	const most = 5000 // places looked at, however large the region is
	r.Middles(math.Max(width/2, r.Length()/most), func(ring int, at, normal geometry.Point) {
		const off = 1e-4 // a grid step, to leave the edge itself
		dir := upright(normal)
		hit, ok := r.Cast(at.Add(normal.Mul(off)), dir, limit)
		if !ok || hit.Ring == ring {
			return
		}
		s := span{middle: at.Lerp(hit.Point, 0.5), rings: [2]int{ring, hit.Ring}}
		if s.fit(r, dir, width, hit.Dist) {
			all = append(all, s)
		}
	})
	slices.SortStableFunc(all, func(a, b span) int {
		return cmp.Or(cmp.Compare(math.Round(a.cost*1e4), math.Round(b.cost*1e4)),
			cmp.Compare(a.middle.X, b.middle.X), cmp.Compare(a.middle.Y, b.middle.Y))
	})
	return all
}

// upright returns the axis along n where n is within 15° of one, else n.
func upright(n geometry.Point) geometry.Point {
	const near = 0.9659 // cos 15°
	switch {
	case math.Abs(n.X) > near:
		return geometry.Pt(math.Copysign(1, n.X), 0)
	case math.Abs(n.Y) > near:
		return geometry.Pt(0, math.Copysign(1, n.Y))
	}
	return n
}

// fit lays the strip along dir and rates it. Its sides must meet the same two
// rings, not too far from where the middle does. Slanting contours, and corners
// within two widths of its middle, count as length.
func (s *span) fit(r *clearance.Region, dir geometry.Point, width, length float64) bool {
	s.cost = length
	limit := length/2 + 2*width
	for k := -4; k <= 4; k++ {
		from := s.middle.Add(dir.Perp().Mul(float64(k) * width / 2))
		a, okA := r.Cast(from, dir.Mul(-1), limit)
		b, okB := r.Cast(from, dir, limit)
		same := okA && okB && r.Inside(from) && a.Ring == s.rings[0] && b.Ring == s.rings[1]
		bent := math.Abs(a.Dist-length/2)+math.Abs(b.Dist-length/2) > width
		if k < -1 || k > 1 { // beside the strip
			if !same || bent {
				s.cost += width
			}
			continue
		}
		if !same || bent {
			return false
		}
		s.cost += slantCost * width * (2 - a.Square - b.Square)
		if k != 0 {
			s.sides[(k+1)/2] = [2]geometry.Point{a.Point, b.Point}
		}
	}
	return true
}

// chooseSpans picks the bridges: a cheapest tree that joins all holes to the
// outer ring, then a second bridge for every long hole that has only one, as
// far round it from the first as is cheap.
func chooseSpans(all []span, rings [][]geometry.Point, width float64) []span {
	group := make([]int, len(rings))
	for i := range group {
		group[i] = i
	}
	var find func(i int) int
	find = func(i int) int {
		if group[i] != i {
			group[i] = find(group[i])
		}
		return group[i]
	}
	var chosen []span
	count := make([]int, len(rings))
	take := func(s span) {
		chosen = append(chosen, s)
		count[s.rings[0]]++
		count[s.rings[1]]++
	}
	for _, s := range all {
		a, b := find(s.rings[0]), find(s.rings[1])
		if a != b && apart(chosen, s, width) {
			group[a] = b
			take(s)
		}
	}
	for ring := 1; ring < len(rings); ring++ {
		if count[ring] == 1 && longerThan(rings[ring], pairLongerThan) {
			if s, ok := second(all, chosen, ring, longSide(geometry.BoxAround(rings[ring]...)), width); ok {
				take(s)
			}
		}
	}
	return chosen
}

// second returns the best second bridge for a ring. Every millimetre that it
// lies nearer to the first than the island is long counts as one of length.
func second(all, chosen []span, ring int, long, width float64) (span, bool) {
	var first geometry.Point
	for _, s := range chosen {
		if s.rings[0] == ring || s.rings[1] == ring {
			first = s.middle
		}
	}
	best, least := span{}, math.Inf(1)
	for _, s := range all {
		if (s.rings[0] != ring && s.rings[1] != ring) || !apart(chosen, s, width) {
			continue
		}
		if c := s.cost + math.Max(0, long-s.middle.Dist(first)); c < least {
			best, least = s, c
		}
	}
	return best, !math.IsInf(least, 1)
}

// apart reports whether a strip leaves room of its own width to those chosen.
func apart(chosen []span, s span, width float64) bool {
	for _, c := range chosen {
		if segmentGap(c.sides[0], s.sides[0]) < 2*width {
			return false
		}
	}
	return true
}

// segmentGap returns the distance between two segments that do not cross.
func segmentGap(a, b [2]geometry.Point) float64 {
	near := func(p geometry.Point, s [2]geometry.Point) float64 {
		d := s[1].Sub(s[0])
		t := math.Max(0, math.Min(1, p.Sub(s[0]).Dot(d)/d.Dot(d)))
		return p.Dist(s[0].Add(d.Mul(t)))
	}
	return math.Min(math.Min(near(a[0], b), near(a[1], b)), math.Min(near(b[0], a), near(b[1], a)))
}
