package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Outermost returns the rectangles that lie in no other and hold something.
func (s *Survey) Outermost() []*Frame {
	var out []*Frame
	var empty copies
	for i := range s.Quads {
		q := &s.Quads[i]
		inside := slices.ContainsFunc(out, func(o *Frame) bool { return o.Holds(q.Bounds().Centre(), 0) })
		if inside || len(out) == maxQuads || empty.have(q) {
			continue
		}
		if !s.holdsSome(q) {
			empty = append(empty, q)
			continue
		}
		out = append(out, &Frame{Quad: *q, OnLayer: s.OnFrameLayer(q)})
	}
	return out
}

func (s *Survey) holdsSome(q *Quad) bool {
	bounds := q.Bounds()
	for _, it := range s.Items {
		s.Budget.Step()
		if !it.speck && bounds.Overlaps(it.Box) && q.Holds(it.Box.Centre(), 0) && !s.Lies(it, q) {
			return true
		}
	}
	return false
}

// HoldMost reports whether frames together hold nearly all of the artwork.
func (s *Survey) HoldMost(pages []*Frame) bool {
	held, rest := 0, 0
	for _, it := range s.Items {
		s.Budget.Spend(1 + len(pages))
		if it.speck {
			continue
		}
		inside, along := false, false
		for _, f := range pages {
			inside = inside || f.Holds(it.Box.Centre(), 0)
			along = along || s.Lies(it, &f.Quad)
		}
		if along {
			continue
		}
		rest++
		if inside {
			held++
		}
	}
	return held > 0 && float64(held) >= holdShare*float64(rest)
}

// Split gives every page what it holds: its own lines as parts of the frame,
// and as its work the rest whose middle lies in it, borders on the frame among it.
// It returns what lies in none.
func (s *Survey) Split(pages []*Frame) ([]*Frame, []Item) {
	var out []*Frame
	var nowhere []Item
	for _, p := range pages {
		f := s.Surround(p.Quad)
		var own []Item
		for _, it := range f.Work.Items {
			s.Budget.Step()
			if f.Holds(it.Box.Centre(), 0) {
				own = append(own, it)
			}
		}
		f.Parts = p.Quad.Parts
		border := map[[2]int]bool{}
		for _, b := range f.Border {
			border[[2]int{b.Shape, b.Path}] = true
		}
		for _, it := range s.Items {
			s.Budget.Step()
			if it.OnFrame && f.Holds(it.Box.Centre(), 0) || s.Lies(it, &f.Quad) && !border[[2]int{it.Shape, it.Path}] {
				f.Parts = mergeParts(append(slices.Clone(f.Parts), Part{Shape: it.Shape, Path: it.Path}))
			}
		}
		f.Work = WorkOf(s.Budget, own)
		f.Reach = f.reaches()
		out = append(out, f)
	}
	for _, it := range s.Items {
		s.Budget.Spend(1 + len(pages))
		if !it.OnFrame && !slices.ContainsFunc(pages, func(p *Frame) bool { return p.Holds(it.Box.Centre(), 0) || s.Lies(it, &p.Quad) }) {
			nowhere = append(nowhere, it)
		}
	}
	return out, nowhere
}

// Copies reports whether rectangles have one size and hold the same work, by the
// boxes of its paths: copies of one piece and not pages of their own.
func Copies(b *budget.Budget, all []*Frame) bool {
	first := inside(b, all[0])
	tol := lyingTol * all[0].Longest()
	return !slices.ContainsFunc(all[1:], func(f *Frame) bool {
		return !slices.EqualFunc(first, inside(b, f), func(a, b geometry.Box) bool {
			return a.Min.Dist(b.Min) <= tol && a.Max.Dist(b.Max) <= tol
		}) || math.Abs(f.U-all[0].U) > tol || math.Abs(f.V-all[0].V) > tol
	})
}

// inside lists the boxes of the work in a rectangle, from its first corner, in an
// order that does not hang on how they were drawn.
func inside(budget *budget.Budget, f *Frame) []geometry.Box {
	var boxes []geometry.Box
	step := 2 * lyingTol * f.Longest()
	for _, it := range f.Work.Items {
		budget.Step()
		if at := f.Corners[0]; !it.speck {
			boxes = append(boxes, geometry.Box{Min: it.Box.Min.Sub(at), Max: it.Box.Max.Sub(at)})
		}
	}
	slices.SortFunc(boxes, func(a, b geometry.Box) int {
		budget.Step()
		return cmp.Or(cmp.Compare(math.Round(a.Min.X/step), math.Round(b.Min.X/step)), cmp.Compare(math.Round(a.Min.Y/step), math.Round(b.Min.Y/step)),
			cmp.Compare(math.Round(a.Max.X/step), math.Round(b.Max.X/step)), cmp.Compare(math.Round(a.Max.Y/step), math.Round(b.Max.Y/step)))
	})
	return boxes
}
