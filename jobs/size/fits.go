package size

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/workshop"
)

// fits reports whether w × h mm lies on the stock in either turn. A stock that
// is not given holds everything; so does a roll along its feed where its
// length is not known.
func fits(s workshop.Stock, w, h float64) bool {
	if s.WidthMM <= 0 {
		return true
	}
	length := s.LengthMM
	if length <= 0 {
		length = math.Inf(1)
	}
	const slack = acceptMM
	lies := func(w, h float64) bool { return w <= s.WidthMM+slack && h <= length+slack }
	return lies(w, h) || lies(h, w)
}

// The bounds of plausible work, in mm: common practice, no source.
const (
	leastWork    = 2   // the whole artwork is at least as long
	leastFeature = 0.1 // so is the middle one of its paths by size
	mostWork     = 5e4 // the planar kernel reaches ±50 m
)

// work is the artwork under one reading of what the frame is.
type work struct {
	items  []item
	bounds geometry.Box // drawing units, along the drawing's axes
	middle float64      // median of the longer sides of the paths' boxes
}

func workOf(b *budget.Budget, items []item) work {
	w := work{items: items, bounds: geometry.EmptyBox()}
	sizes := make([]float64, len(items))
	for i, it := range items {
		b.Step()
		w.bounds = w.bounds.Union(it.box)
		sizes[i] = math.Max(it.box.Width(), it.box.Height())
	}
	if len(sizes) > 0 {
		slices.SortFunc(sizes, func(p, q float64) int {
			b.Step()
			return cmp.Compare(p, q)
		})
		w.middle = sizes[len(sizes)/2]
	}
	return w
}

// plausible reports whether the artwork would be neither microscopic nor
// endless at a factor.
func (w *work) plausible(factor float64) bool {
	return w.sensible(factor) && w.middle*factor >= leastFeature
}

// sensible reports whether the artwork as a whole has a size at a factor that
// somebody could mean.
func (w *work) sensible(factor float64) bool {
	long := math.Max(w.bounds.Width(), w.bounds.Height()) * factor
	return long >= leastWork && long <= mostWork
}
