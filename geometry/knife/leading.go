package knife

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// lengthSteps is what it takes to measure a Bézier curve, in steps.
const lengthSteps = 16

// leading returns the segments of the first length mm of path, at most all.
func leading(b *budget.Budget, path geometry.Path, length float64) []geometry.Segment {
	var segs []geometry.Segment
	from := path.Start
	for _, s := range path.Segments {
		if length <= 0 {
			break
		}
		b.Spend(lengthSteps)
		whole := s.Length(from)
		if whole > length {
			segs = append(segs, firstPart(from, s, length))
			break
		}
		segs = append(segs, s)
		length -= whole
		from = s.End
	}
	return segs
}

// firstPart returns the first length mm of s, which is longer than that.
func firstPart(from geometry.Point, s geometry.Segment, length float64) geometry.Segment {
	t := length / s.Length(from)
	switch {
	case s.Kind == geometry.Cubic:
		return cubicPart(from, s, length)
	case s.Kind == geometry.Arc && !s.Straight():
		c, r, start, sweep := geometry.ArcCircle(from, s)
		sin, cos := math.Sincos(start + sweep*t)
		return geometry.ArcTo(math.Tan(sweep*t/4), c.Add(geometry.Pt(r*cos, r*sin)))
	}
	return geometry.LineTo(from.Lerp(s.End, t))
}

// cubicPart cuts a Bézier curve where its length is reached, found by
// bisection to a millionth of the parameter, with de Casteljau's construction.
func cubicPart(from geometry.Point, s geometry.Segment, length float64) geometry.Segment {
	lo, hi := 0.0, 1.0
	part := s
	for hi-lo > 1e-6 {
		t := (lo + hi) / 2
		a, b, c := from.Lerp(s.C1, t), s.C1.Lerp(s.C2, t), s.C2.Lerp(s.End, t)
		ab, bc := a.Lerp(b, t), b.Lerp(c, t)
		part = geometry.CubicTo(a, ab, ab.Lerp(bc, t))
		if part.Length(from) < length {
			lo = t
		} else {
			hi = t
		}
	}
	return part
}
