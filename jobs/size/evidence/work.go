package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/stray"
)

// Work is the artwork under one reading of what the frame is.
type Work struct {
	Items  []Item
	Middle float64 // median of the longer sides of the paths' boxes

	lines  geometry.Box   // of all but specks
	specks []geometry.Box // outside of lines, so small that they may be points
}

// speckShare is the extent against that of the longest path up to which a path
// may turn out to be a point at true size: where a path is 1 m long, such of 1 mm.
const speckShare = 1e-3

// WorkOf measures items.
func WorkOf(b *budget.Budget, items []Item) Work {
	w := Work{Items: items, lines: geometry.EmptyBox()}
	sizes := make([]float64, len(items))
	for i, it := range items {
		b.Step()
		sizes[i] = math.Max(it.Box.Width(), it.Box.Height())
	}
	least := 0.0
	for _, long := range sizes {
		least = math.Max(least, speckShare*long)
	}
	var counted []float64
	for i, it := range items {
		b.Step()
		if sizes[i] > least {
			w.lines = w.lines.Union(it.Box)
			counted = append(counted, sizes[i])
		}
	}
	for i, it := range items {
		b.Step()
		if sizes[i] <= least && !w.lines.ContainsBox(it.Box) {
			w.specks = append(w.specks, it.Box)
		}
	}
	if len(counted) > 0 {
		slices.SortFunc(counted, func(p, q float64) int {
			b.Step()
			return cmp.Compare(p, q)
		})
		w.Middle = counted[len(counted)/2]
	}
	return w
}

// At returns the box of the work, in drawing units along the drawing's axes,
// where one of these is mm long: without what is only a point then.
func (w *Work) At(mm float64) geometry.Box {
	b := w.lines
	for _, s := range w.specks {
		if !stray.Point(geometry.Box{Min: s.Min.Mul(mm), Max: s.Max.Mul(mm)}) {
			b = b.Union(s)
		}
	}
	if b.Empty() {
		return geometry.Box{}
	}
	return b
}

// Size returns the width and height of the work in mm where a drawing unit is
// mm long.
func (w *Work) Size(mm float64) (width, height float64) {
	b := w.At(mm)
	return b.Width() * mm, b.Height() * mm
}

// Factor returns how many mm a drawing unit is long where an extent of the
// work is to be that many mm. It takes rounds, since what is a point depends on
// the answer.
func (w *Work) Factor(extent func(geometry.Box) float64, mm float64) float64 {
	k := mm / extent(w.At(0))
	for range 4 {
		next := mm / extent(w.At(k))
		if next == k || math.IsInf(next, 0) || math.IsNaN(next) {
			break
		}
		k = next
	}
	return k
}

// The bounds of plausible work, in mm: common practice, no source.
const (
	leastWork    = 2   // the whole artwork is at least as long
	leastFeature = 0.1 // so is the middle one of its paths by size
	mostWork     = 5e4 // the planar kernel reaches ±50 m
)

// Plausible reports whether the artwork would be neither microscopic nor
// endless at a factor.
func (w *Work) Plausible(mm float64) bool {
	return w.Sensible(mm) && w.Middle*mm >= leastFeature
}

// Sensible reports whether the artwork as a whole has a size at a factor that
// somebody could mean.
func (w *Work) Sensible(mm float64) bool {
	long := math.Max(w.Size(mm))
	return long >= leastWork && long <= mostWork
}

// LongestLine returns the length of the longest straight line of the work, 0
// where there is none.
func (s *Survey) LongestLine(w *Work) float64 {
	longest := 0.0
	for _, it := range w.Items {
		s.Budget.Step()
		longest = math.Max(longest, longestRun(s.Path(it), s.runs))
	}
	return longest
}

// LongestRun returns the length of the longest straight line in a path, 0 where
// it has none.
func LongestRun(p *geometry.Path) float64 { return longestRun(p, nil) }

func longestRun(p *geometry.Path, buf []run) float64 {
	longest := 0.0
	runs, _ := runsOf(p, buf)
	for _, r := range runs {
		longest = math.Max(longest, length(r))
	}
	return longest
}
