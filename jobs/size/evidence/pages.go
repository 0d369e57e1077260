package evidence

import "slices"

// Outermost returns the rectangles that lie in no other and hold something.
func (s *Survey) Outermost() []*Frame {
	var out []*Frame
	for i := range s.Quads {
		q := &s.Quads[i]
		inside := slices.ContainsFunc(out, func(o *Frame) bool { return o.Holds(q.Bounds().Centre(), 0) })
		if inside || len(out) == maxQuads || !s.holdsSome(q) {
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
// and as its work the rest whose middle lies in it. It returns what lies in none.
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
		for _, it := range s.Items {
			s.Budget.Step()
			if it.OnFrame && f.Holds(it.Box.Centre(), 0) || s.Lies(it, &f.Quad) {
				f.Parts = mergeParts(append(slices.Clone(f.Parts), Part{Shape: it.Shape, Path: it.Path}))
			}
		}
		f.Work, f.Border = WorkOf(s.Budget, own), nil
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
