package panel

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Line is a line of a panel.
type Line struct {
	Path geometry.Path
	Of   int // the line of the work of which it begins with a part; −1: a seam alone
}

// Kept reports whether a point of the work lies in what is kept of it.
type Kept func(b *budget.Budget, p geometry.Point) bool

// probe is how far inside a panel, in mm, one looks whether its side lies in what is
// kept. Where crossings lie nearer to each other it is a quarter of that.
const probe = 0.02

// Cut returns the lines of a panel: those of the work as far as they lie in its box, in
// their order, and the seams, which run along the sides of the box through what is
// kept. Runs of lines that bound what is kept (bounds) are joined with seams to closed
// lines wherever their ends meet. Sides of the box that lie beyond the work cut nothing.
func Cut(b *budget.Budget, work []geometry.Path, bounds func(line int) bool, box geometry.Box, kept Kept) []Line {
	var lines, runs []Line
	for i := range work {
		for _, run := range Clip(b, work[i], box) {
			if one := (Line{run, i}); run.Closed || !bounds(i) {
				lines = append(lines, one)
			} else {
				runs = append(runs, one)
			}
		}
	}
	for _, side := range sidesOf(box) {
		for _, seam := range side.seams(b, box, runs, kept) {
			runs = append(runs, Line{seam, -1})
		}
	}
	lines = append(lines, join(b, runs)...)
	slices.SortStableFunc(lines, func(p, q Line) int { return cmp.Compare(uint(p.Of), uint(q.Of)) }) // seams last
	return lines
}

// seams returns the stretches of a side that lie in what is kept, as far as they lead
// from crossing to crossing.
func (s sideOf) seams(b *budget.Budget, box geometry.Box, runs []Line, kept Kept) []geometry.Path {
	var all []geometry.Path
	ends := s.crossings(b, box, runs)
	for i := 1; i < len(ends); i++ {
		if s.along(b, ends[i-1], ends[i], kept) {
			all = append(all, geometry.Polyline(ends[i-1], ends[i]))
		}
	}
	return all
}

// crossings lists where runs end on a side, and its corners, in order.
func (s sideOf) crossings(b *budget.Budget, box geometry.Box, runs []Line) []geometry.Point {
	ends := []geometry.Point{s.onto(box.Min), s.onto(box.Max)}
	for i := range runs {
		b.Step()
		for _, end := range [2]geometry.Point{runs[i].Path.Start, runs[i].Path.End()} {
			if s.axis.Of(end) == s.at {
				ends = append(ends, end)
			}
		}
	}
	slices.SortFunc(ends, func(p, q geometry.Point) int { return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) })
	return slices.Compact(ends)
}

// along reports whether a stretch of a side between two crossings lies in what is kept:
// most of it does, since lines that only touch the side part none.
func (s sideOf) along(b *budget.Budget, from, to geometry.Point, kept Kept) bool {
	in := geometry.Pt(math.Min(probe, from.Dist(to)/4)*s.in, 0)
	if s.axis == geometry.Level {
		in = geometry.Pt(0, in.X)
	}
	votes := 0
	for _, t := range [...]float64{0.11, 0.3, 0.48, 0.7, 0.89} {
		if kept(b, from.Lerp(to, t).Add(in)) {
			votes++
		}
	}
	return votes >= 3
}
