package mend

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
)

// InOrder returns the strokes in the order in which they have precedence over
// each other. With it the effort that they take does not depend on the order in
// which they come, nor does what is said of them when it is used up.
func InOrder(b *budget.Budget, strokes []artwork.Stroke) []artwork.Stroke {
	all := make([]artwork.Stroke, len(strokes))
	for i, s := range ranked(b, strokes) {
		all[i] = strokes[s]
	}
	return all
}

// ranked returns the numbers of the strokes in the order in which they have
// precedence over each other. Lengths count in steps of 1 nm, so that rounding
// does not tell a line from its copy.
func ranked(b *budget.Budget, strokes []artwork.Stroke) []int {
	order, lengths := make([]int, len(strokes)), make([]float64, len(strokes))
	for i := range strokes {
		order[i], lengths[i] = i, math.Round(1e6*strokes[i].Path.LengthIn(b))
	}
	slices.SortFunc(order, func(i, k int) int {
		b.Step()
		s, t := &strokes[i], &strokes[k]
		if c := cmp.Or(last(s.Path.Closed, t.Path.Closed), last(s.Fill != "", t.Fill != ""), cmp.Compare(lengths[k], lengths[i])); c != 0 {
			return c
		}
		return cmp.Or(compare(s, t), cmp.Compare(i, k))
	})
	return order
}

// last orders true before false.
func last(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// compare orders strokes by what they are and not by where they stand in a
// list: by geometry, then by paint. It returns 0 only for strokes that differ
// in nothing but the shape and source they came from.
func compare(s, t *artwork.Stroke) int {
	if c := comparePaths(&s.Path, &t.Path); c != 0 {
		return c
	}
	return cmp.Or(
		cmp.Compare(s.Operation, t.Operation), cmp.Compare(s.Fill, t.Fill),
		cmp.Compare(s.Layer, t.Layer), cmp.Compare(hue(s.Colour), hue(t.Colour)))
}

// hue numbers a colour, −1 for none.
func hue(c *drawing.Colour) int {
	if c == nil {
		return -1
	}
	return int(c.R)<<16 | int(c.G)<<8 | int(c.B)
}

func comparePaths(p, q *geometry.Path) int {
	if c := cmp.Or(comparePoints(p.Start, q.Start), cmp.Compare(len(p.Segments), len(q.Segments)), last(p.Closed, q.Closed)); c != 0 {
		return c
	}
	for i, s := range p.Segments {
		if c := compareSegments(s, q.Segments[i]); c != 0 {
			return c
		}
	}
	return 0
}

func compareSegments(s, t geometry.Segment) int {
	return cmp.Or(cmp.Compare(s.Kind, t.Kind), comparePoints(s.End, t.End), comparePoints(s.C1, t.C1), comparePoints(s.C2, t.C2), cmp.Compare(s.Bulge, t.Bulge))
}

func comparePoints(a, b geometry.Point) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
}
