package size

import (
	"slices"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// pageFrames finds the frames of several pages in one file: rectangles side by
// side that together hold nearly all of the artwork, each of a named size by
// one and the same cause, or of the declared size by one factor.
func (j *judge) pageFrames() []*framed {
	outer := j.outermost()
	for i := range outer {
		k, ok := j.pageFactor(outer[i])
		if !ok {
			continue
		}
		var pages []*framed
		for _, f := range outer {
			if j.sizeAt(f, k) != "" {
				pages = append(pages, f)
			}
		}
		if len(pages) > 1 && j.holdMost(pages) {
			return pages
		}
	}
	return nil
}

// outermost returns the rectangles that lie in no other and hold something.
func (j *judge) outermost() []*framed {
	var out []*framed
	for i := range j.quads {
		q := &j.quads[i]
		inside := false
		for _, o := range out {
			inside = inside || o.holds(q.bounds().Centre(), 0)
		}
		if inside || len(out) == maxQuads || !j.holdsSome(q) {
			continue
		}
		out = append(out, &framed{quad: *q, byLayer: j.onFrameLayer(q)})
	}
	return out
}

func (s *survey) holdsSome(q *quad) bool {
	bounds := q.bounds()
	for _, it := range s.items {
		s.budget.Step()
		if bounds.Overlaps(it.box) && q.holds(it.box.Centre(), 0) && !s.lies(it, q) {
			return true
		}
	}
	return false
}

// pageFactor is the factor that a frame gives when it stands alone.
func (j *judge) pageFactor(f *framed) (float64, bool) {
	for _, r := range j.weigh(f) {
		if r.sure() && (r.hasCause() || j.isDeclared(r.size)) {
			return r.Factor, true
		}
	}
	return 0, false
}

// sizeAt names the size of a frame at a factor, empty where it has none.
func (j *judge) sizeAt(f *framed, k float64) string {
	for _, s := range j.sizes {
		if left := j.left(f, s, k, k); left[0] <= acceptMM && left[1] <= acceptMM {
			return s.name
		}
	}
	return ""
}

func (s *survey) holdMost(pages []*framed) bool {
	held, rest := 0, 0
	for _, it := range s.items {
		s.budget.Spend(1 + len(pages))
		inside, along := false, false
		for _, f := range pages {
			in := f.holds(it.box.Centre(), 0)
			inside = inside || in
			along = along || (in && s.lies(it, &f.quad))
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

// merge makes one frame of those of several pages: measured on the first, the
// largest, with the parts of all.
func (s *survey) merge(pages []*framed) *framed {
	first := s.surround(pages[0].quad)
	rest := first.work.items
	for _, p := range pages[1:] {
		next := s.surround(p.quad)
		first.parts = append(first.parts, next.parts...)
		first.doubled += next.doubled
		first.border = append(first.border, next.border...)
		rest = common(rest, next.work.items)
	}
	first.parts = mergeParts(first.parts)
	first.work = workOf(s.budget, rest)
	first.reach = first.reaches()
	return first
}

// common returns the items in both lists, which run in the order of the drawing.
func common(a, b []item) []item {
	var out []item
	k := 0
	for _, it := range a {
		for k < len(b) && (b[k].shape < it.shape || (b[k].shape == it.shape && b[k].path < it.path)) {
			k++
		}
		if k < len(b) && b[k].shape == it.shape && b[k].path == it.path {
			out = append(out, it)
		}
	}
	return out
}

// agreed asks where the frames of several pages give different sizes.
func (j *judge) agreed(v verdict) verdict {
	if v.ask != nil || v.size == "" || v.x != v.y {
		return v
	}
	for _, p := range j.pages {
		if j.sizeAt(p, v.x) == "" {
			return j.asking(&open{code: finding.FramesDisagree, readings: v.readings, lengthFirst: true}, v.readings)
		}
	}
	return v
}

// pieceLikely reports whether what was taken for a frame could as well be cut:
// the caller declared no frame, it lies on no frame layer, and there are several
// of a size smaller than the stock's sheet, or what a person gave shows that it
// has no named size, or it is drawn like the work on a roll, which has no sheet.
func (j *judge) pieceLikely(f *framed, v *verdict) bool {
	if !f.mayBePiece() || j.byCaller {
		return false
	}
	if len(j.pages) > 1 {
		return j.declared == nil && !j.isSheet(v.size)
	}
	if v.given() {
		return j.sizeAt(f, v.x) == "" && !j.provenFrame(f)
	}
	return j.declared == nil && j.req.Stock.Form == workshop.Roll && sameFactor(v.x, j.file.mm) && j.likeWork(f)
}

// likeWork reports whether lines of the work have the layer and the colours of
// the frame.
func (j *judge) likeWork(f *framed) bool {
	look := j.paintOf(f.quad.parts[0].Shape)
	return slices.ContainsFunc(f.work.items, func(it item) bool { return j.paintOf(it.shape) == look })
}

// given reports whether the size rests on a length, unit or scale that a
// person gave.
func (v *verdict) given() bool {
	return slices.Contains([]string{KnownLengthIs, DeclaredUnit, DeclaredScale}, v.cause)
}

// provenFrame reports whether a frame fits a named size by a named cause.
func (j *judge) provenFrame(f *framed) bool {
	return slices.ContainsFunc(j.weigh(f), func(r reading) bool { return r.hasCause() && r.sure() })
}

// pieceOpen reports whether it is still asked what the rectangle is.
func (j *judge) pieceOpen(f *framed, v *verdict) bool {
	if v.ask != nil {
		return f.mayBePiece()
	}
	return !v.piece && j.pieceLikely(f, v) && j.req.Replies[PieceQuestionID].Answer == ""
}

// pieces reports whether a person answered that the frame is cut.
func (j *judge) pieces(f *framed, v *verdict) bool {
	return v.piece || v.ask == nil && j.pieceLikely(f, v) && j.req.Replies[PieceQuestionID].Answer == AnswerPieces
}

func (j *judge) isSheet(name string) bool {
	for _, s := range j.sizes {
		if s.name == name {
			return s.sheet
		}
	}
	return false
}
