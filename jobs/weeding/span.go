package weeding

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
)

// slantCost is how many widths of length a contour costs at one end of a
// bridge for running along it instead of across it.
const slantCost = 3

// span is a place for a bridge across a removed region: a strip with straight
// sides from one ring to another.
type span struct {
	middle geometry.Point
	sides  [2][2]geometry.Point // right and left of the way from rings[0] to rings[1]
	rings  [2]int
	along  [2]float64 // how far round each of the rings its middle ends, in mm
	cost   float64    // mm; the length, and more for what disturbs
}

// spans finds places for bridges of the given width from every hole of the
// region. They are sorted by cost, the least first.
func spans(b *budget.Budget, r *clearance.Region, width float64) []span {
	var all []span
	limit := r.Bounds().Width() + r.Bounds().Height()
	const most = 5000 // places looked at, however large the region is
	r.Middles(b, math.Max(width/2, r.Length()/most), func(ring int, along float64, at, normal geometry.Point) {
		const off = 1e-4 // a grid step, to leave the edge itself
		dir := upright(normal)
		hit, ok := r.Cast(b, at.Add(normal.Mul(off)), dir, limit)
		if !ok || hit.Ring == ring {
			return
		}
		s := span{middle: at.Lerp(hit.Point, 0.5), rings: [2]int{ring, hit.Ring}, along: [2]float64{along, hit.Along}}
		if s.fit(b, r, dir, width, hit.Dist) {
			all = append(all, s)
		}
	})
	slices.SortStableFunc(all, func(s, t span) int {
		b.Step()
		return cmp.Or(cmp.Compare(math.Round(s.cost*1e4), math.Round(t.cost*1e4)),
			cmp.Compare(s.middle.X, t.middle.X), cmp.Compare(s.middle.Y, t.middle.Y))
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
func (s *span) fit(b *budget.Budget, r *clearance.Region, dir geometry.Point, width, length float64) bool {
	s.cost = length
	limit := length/2 + 2*width
	for k := -4; k <= 4; k++ {
		from := s.middle.Add(dir.Perp().Mul(float64(k) * width / 2))
		back, okBack := r.Cast(b, from, dir.Mul(-1), limit)
		on, okOn := r.Cast(b, from, dir, limit)
		same := okBack && okOn && r.Inside(b, from) && back.Ring == s.rings[0] && on.Ring == s.rings[1]
		bent := math.Abs(back.Dist-length/2)+math.Abs(on.Dist-length/2) > width
		if k < -1 || k > 1 { // beside the strip
			if !same || bent {
				s.cost += width
			}
			continue
		}
		if !same || bent {
			return false
		}
		s.cost += slantCost * width * (2 - back.Square - on.Square)
		if k != 0 {
			s.sides[(k+1)/2] = [2]geometry.Point{back.Point, on.Point}
		}
	}
	return true
}
