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
			first, _ := Split(from, s, length/whole)
			segs = append(segs, first)
			break
		}
		segs = append(segs, s)
		length -= whole
		from = s.End
	}
	return segs
}

// Split parts s at the share t of its length, which lies between 0 and 1.
func Split(from geometry.Point, s geometry.Segment, t float64) (first, rest geometry.Segment) {
	switch {
	case s.Kind == geometry.Cubic:
		return splitCubic(from, s, t)
	case s.Kind == geometry.Arc && !s.Straight():
		c := circleOf(from, s)
		return c.part(t), geometry.ArcTo(math.Tan(c.sweep*(1-t)/4), s.End)
	}
	return geometry.LineTo(from.Lerp(s.End, t)), geometry.LineTo(s.End)
}

// part returns the first part of the arc.
func (c *circle) part(t float64) geometry.Segment {
	sin, cos := math.Sincos(c.start + c.sweep*t)
	return geometry.ArcTo(math.Tan(c.sweep*t/4), c.centre.Add(geometry.Pt(c.radius*cos, c.radius*sin)))
}

// splitCubic parts a Bézier curve where that share of its length is reached,
// found by bisection to a millionth of the parameter.
func splitCubic(from geometry.Point, s geometry.Segment, share float64) (first, rest geometry.Segment) {
	length := share * s.Length(from)
	lo, hi := 0.0, 1.0
	for hi-lo > 1e-6 {
		t := (lo + hi) / 2
		first, rest = splitAt(from, s, t)
		if first.Length(from) < length {
			lo = t
		} else {
			hi = t
		}
	}
	return first, rest
}

// splitAt parts a Bézier curve at a parameter by de Casteljau's construction.
func splitAt(from geometry.Point, s geometry.Segment, t float64) (first, rest geometry.Segment) {
	a, b, c := from.Lerp(s.C1, t), s.C1.Lerp(s.C2, t), s.C2.Lerp(s.End, t)
	ab, bc := a.Lerp(b, t), b.Lerp(c, t)
	at := ab.Lerp(bc, t)
	return geometry.CubicTo(a, ab, at), geometry.CubicTo(bc, c, s.End)
}
