package nest

import "math"

// Panels returns how many panels of a width cover a length when each overlaps
// the next, all in mm: ⌈(L−o)/(W−o)⌉, 1 where the length fits. It returns 0
// where no number does, because the overlap eats the width.
func Panels(length, width, overlap float64) int {
	const slack = 1e-9 // keeps an exact fit from being rounded up
	switch {
	case length <= width:
		return 1
	case width <= overlap:
		return 0
	}
	return int(math.Ceil((length-overlap)/(width-overlap) - slack))
}
