package planar

import "math/bits"

// segment is a straight line between two different grid points, a before b.
type segment struct{ a, b node }

// cross returns twice the signed area of the triangle o, p, q: positive where
// q lies to the left of the line from o to p. It is exact: differences are at
// most 2·reach = 10⁹, so the products stay below 2⁶⁰.
func cross(o, p, q node) int64 {
	return int64(p.x-o.x)*int64(q.y-o.y) - int64(p.y-o.y)*int64(q.x-o.x)
}

// ySpan returns the lower and the upper y of s.
func (s segment) ySpan() (lo, hi int32) {
	return min(s.a.y, s.b.y), max(s.a.y, s.b.y)
}

// touches reports whether s meets the pixel of p, the half-open square
// [p.x−½, p.x+½) × [p.y−½, p.y+½).
//
// The ends of s are themselves middles of pixels, so s can meet only pixels
// whose middle lies in its box, and there the whole line decides: it meets
// the open square if its distance, measured as a cross product, is less than
// half the sum of the direction's sides. On equality it grazes one corner,
// and of the corners only the lower left belongs to the pixel.
func (s segment) touches(p node) bool {
	if p.x < s.a.x || p.x > s.b.x {
		return false
	}
	if lo, hi := s.ySpan(); p.y < lo || p.y > hi {
		return false
	}
	rise := int64(s.b.y) - int64(s.a.y)
	d := 2 * cross(s.a, s.b, p)
	width := int64(s.b.x) - int64(s.a.x) + max(rise, -rise)
	if d < width && -d < width {
		return true
	}
	return rise < 0 && d == width
}

// crossing returns the pixel that holds the point where s and t cross, and
// whether they do cross: in one point inside both.
func (s segment) crossing(t segment) (node, bool) {
	c, d := cross(s.a, s.b, t.a), cross(s.a, s.b, t.b)
	if c >= 0 && d >= 0 || c <= 0 && d <= 0 {
		return node{}, false
	}
	from, to := cross(t.a, t.b, s.a), cross(t.a, t.b, s.b)
	if from >= 0 && to >= 0 || from <= 0 && to <= 0 {
		return node{}, false
	}
	// The point lies from/(from−to) of the way along s; both may be up to
	// 2·10¹⁸ and differ in sign, so the difference still fits.
	part, whole := uint64(from), uint64(from-to)
	if from < 0 {
		part, whole = uint64(-from), uint64(to-from)
	}
	return node{
		s.a.x + fraction(s.b.x-s.a.x, part, whole),
		s.a.y + fraction(s.b.y-s.a.y, part, whole),
	}, true
}

// fraction returns ⌊length·part/whole + ½⌋ exactly, for 0 < part < whole < 2⁶³.
func fraction(length int32, part, whole uint64) int32 {
	size := uint64(length)
	if length < 0 {
		size = uint64(-int64(length))
	}
	hi, lo := bits.Mul64(size, part)
	q, r := bits.Div64(hi, lo, whole)
	if length < 0 {
		if 2*r > whole {
			q++
		}
		return -int32(q)
	}
	if 2*r >= whole {
		q++
	}
	return int32(q)
}
