package rect

import "slices"

// rise is a level stretch of the skyline.
type rise struct{ x, y, w int64 }

// skyline is what lies above all that is placed, from left to right; neighbours lie at
// unlike heights.
type skyline []rise

// lowest returns the lowest stretch, the leftmost of several, and how much higher its
// neighbours are; beyond the strip's sides and its end it is walled.
func (s skyline) lowest(end int64) (at int, left, right int64) {
	for i := range s {
		if s[i].y < s[at].y {
			at = i
		}
	}
	left, right = end-s[at].y, end-s[at].y
	if at > 0 {
		left = s[at-1].y - s[at].y
	}
	if at+1 < len(s) {
		right = s[at+1].y - s[at].y
	}
	return at, left, right
}

// raised returns the skyline with a stretch lifted by so much: to the lower of its
// neighbours.
func (s skyline) raised(at int, by int64) skyline {
	s[at].y += by
	return s.joined(at)
}

// covered returns the skyline with a rectangle of w by h on a stretch, at its left end
// or its right one, and where that lies along x.
func (s skyline) covered(at int, w, h int64, right bool) (skyline, int64) {
	low := s[at]
	if w == low.w {
		s[at].y += h
		return s.joined(at), low.x
	}
	s[at].w -= w
	if right {
		s = slices.Insert(s, at+1, rise{low.x + low.w - w, low.y + h, w})
		return s.joined(at + 1), low.x + low.w - w
	}
	s[at].x += w
	s = slices.Insert(s, at, rise{low.x, low.y + h, w})
	return s.joined(at), low.x
}

// joined makes one stretch of neighbours at the same height.
func (s skyline) joined(at int) skyline {
	if at+1 < len(s) && s[at+1].y == s[at].y {
		s[at].w += s[at+1].w
		s = slices.Delete(s, at+1, at+2)
	}
	if at > 0 && s[at-1].y == s[at].y {
		s[at-1].w += s[at].w
		s = slices.Delete(s, at, at+1)
	}
	return s
}

// top returns the height of the highest stretch.
func (s skyline) top() int64 {
	top := int64(0)
	for _, r := range s {
		top = max(top, r.y)
	}
	return top
}
