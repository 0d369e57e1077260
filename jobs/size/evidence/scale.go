package evidence

import (
	"math"
	"slices"
)

// Nested returns the scale at which parts of the drawing are placed against the
// rest, and those parts, where suspect says of the scale that it looks like a
// mix-up: the least such scale. There are none where all that is drawn shares
// one scale.
func (s *Survey) Nested(suspect func(scale float64) bool) (float64, []Item) {
	of := func(it Item) float64 {
		if n := s.Drawing.Shapes[it.Shape].Nested; n > 0 && n <= 1e6 {
			return n
		}
		return 1
	}
	same := func(a, b float64) bool { return math.Abs(a/b-1) <= 1e-6 }
	scale, differ := math.Inf(1), false
	for _, it := range s.Items {
		s.Budget.Step()
		n := of(it)
		differ = differ || !same(n, of(s.Items[0]))
		if !same(n, 1) && n < scale && suspect(n) {
			scale = n
		}
	}
	if !differ {
		return scale, nil
	}
	return scale, slices.DeleteFunc(slices.Clone(s.Items), func(it Item) bool { return !same(of(it), scale) })
}
