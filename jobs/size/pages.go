package size

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// PagesQuestionID is the ID of the question which of several drawings in one
// file is meant. Its answers are AnswerAllPages and page_1, page_2, …, from left
// to right and down.
const PagesQuestionID = Name + "/which_page"

// Answers to it.
const (
	AnswerAllPages = "all_pages"
	AnswerPage     = "page_" // with the number of the drawing, which is that of its place
)

// pages are the frames of several drawings in one file.
type pages struct {
	*inquiry
	frames []*evidence.Frame // from left to right and down
}

// pagesOf finds the frames of several drawings in one file: rectangles side by
// side that together hold nearly all of the artwork, each of them a frame, or
// all of them about to be asked whether they are. There are fewer than two where
// the file holds one drawing.
func pagesOf(q *inquiry) pages {
	none := pages{q, nil}
	outer := q.Outermost()
	if len(outer) < 2 || !q.HoldMost(outer) {
		return none
	}
	split, _ := q.Split(outer)
	found := slices.DeleteFunc(split, func(f *evidence.Frame) bool {
		c := q.weighPage(f)
		return !f.OnLayer && (c.verdict.Role == decide.Part || !hasReading(c.readings, (*reading.Reading).Sure))
	})
	if slices.ContainsFunc(found, func(f *evidence.Frame) bool { return f.OnLayer }) {
		found = slices.DeleteFunc(found, func(f *evidence.Frame) bool { return !f.OnLayer && q.mayBePiece(f) })
	}
	if len(found) < 2 || !q.HoldMost(found) {
		return none
	}
	slices.SortStableFunc(found, func(a, b *evidence.Frame) int {
		p, r := a.Quad.Bounds(), b.Quad.Bounds()
		return cmp.Or(cmp.Compare(p.Min.X, r.Min.X), cmp.Compare(r.Max.Y, p.Max.Y))
	})
	return pages{q, found}
}

// weighPage makes the verdict on one of several frames.
func (q *inquiry) weighPage(f *evidence.Frame) *judged {
	of := *q
	file, scales := *q.file, *q.scales
	file.ManyPages, scales.ManyPages = true, true
	of.file, of.scales = &file, &scales
	return of.weigh(f)
}

// mayBePiece reports whether a frame among several could be an edge of a piece.
func (q *inquiry) mayBePiece(f *evidence.Frame) bool {
	return !f.OnLayer && (q.LooksCut(f) || !q.Closed(&f.Work)) && q.canCut(f, q.file.File.MM)
}

// settled asks which of several drawings is meant, or goes on with what was
// answered.
func (p pages) settled() *Result {
	others := slices.ContainsFunc(p.frames, func(f *evidence.Frame) bool { return !p.mayBePiece(f) })
	if !others && !p.req.given() {
		switch p.req.Replies[PieceQuestionID].Answer {
		case "":
			return p.askPieces()
		case AnswerPieces:
			return p.result(p.unframed())
		}
	}
	answer := p.req.Replies[PagesQuestionID].Answer
	if answer == AnswerAllPages {
		return p.all()
	}
	if n, err := strconv.Atoi(strings.TrimPrefix(answer, AnswerPage)); err == nil && n >= 1 && n <= len(p.frames) {
		return p.page(p.frames[n-1])
	}
	return p.askPages()
}

// page settles one of several drawings; the lines of the others are left out.
func (p pages) page(f *evidence.Frame) *Result {
	mine := map[[2]int]bool{}
	for _, part := range f.Parts {
		mine[[2]int{part.Shape, part.Path}] = true
	}
	for _, it := range f.Work.Items {
		mine[[2]int{it.Shape, it.Path}] = true
	}
	var own []evidence.Item
	var others []Part
	for _, it := range p.Items {
		p.Budget.Step()
		if mine[[2]int{it.Shape, it.Path}] {
			own = append(own, it)
		} else {
			others = append(others, Part{Shape: it.Shape, Path: it.Path})
		}
	}
	of := *p.inquiry
	of.whole = evidence.WorkOf(p.Budget, own)
	res := of.result(of.weighPage(f))
	p.fault = cmp.Or(p.fault, of.fault)
	res.LeftOut = others
	return res
}

// all settles all of several drawings: by one factor as they lie where their
// frames agree on one, else each by its own frame, side by side.
func (p pages) all() *Result {
	first := p.weighPage(p.frames[0])
	agree := true
	for _, f := range p.frames {
		c := p.weighPage(f)
		agree = agree && (alike(f, p.frames[0]) || oneFactor(c, first))
	}
	if agree {
		return p.merged()
	}
	return p.sideBySide()
}

// alike reports whether two frames are as large as drawn.
func alike(f, g *evidence.Frame) bool {
	return reading.SameFactor(f.U, g.U) && reading.SameFactor(f.V, g.V)
}

// oneFactor reports whether two frames are best read by one factor.
func oneFactor(c, d *judged) bool {
	if c.verdict.Size == decide.ByWord {
		return true
	}
	return len(c.readings) > 0 && len(d.readings) > 0 && !c.readings[0].Differs(&d.readings[0], max(c.frame.Far(), d.frame.Far()))
}

// merged settles several drawings by one factor, measured on the largest frame.
func (p pages) merged() *Result {
	largest := *slices.MaxFunc(p.frames, func(a, b *evidence.Frame) int { return cmp.Compare(a.U*a.V, b.U*b.V) })
	var rest []evidence.Item
	for _, f := range p.frames {
		rest = append(rest, f.Work.Items...)
		if f.Quad.Corners != largest.Quad.Corners {
			largest.Parts = append(slices.Clone(largest.Parts), f.Parts...)
			largest.Border = append(slices.Clone(largest.Border), f.Border...)
		}
	}
	_, nowhere := p.Split(p.frames)
	largest.Work = evidence.WorkOf(p.Budget, append(rest, nowhere...))
	c := p.weighPage(&largest)
	if c.verdict.Role == decide.Open {
		c.verdict.Role = decide.Frame // it was answered for all of them
	}
	return p.result(c)
}

// sideBySide gives each of several drawings the size of its own frame. A frame
// that has to be asked about is asked about first.
func (p pages) sideBySide() *Result {
	var res *Result
	box, right := geometry.EmptyBox(), 0.0
	for _, f := range p.frames {
		c := p.weighPage(f)
		if c.verdict.Size == decide.Asked {
			return p.page(f)
		}
		one := p.page(f)
		b := f.Quad.Bounds()
		place := Placed{Transform: geometry.Translate(-b.Min.X, -b.Min.Y).Then(one.Transform).Then(geometry.Translate(right, 0))}
		for _, it := range f.Work.Items {
			place.Parts = append(place.Parts, Part{Shape: it.Shape, Path: it.Path})
		}
		work := f.Work.At(one.X)
		for _, corner := range work.Corners() {
			box = box.Include(place.Transform.Apply(corner))
		}
		right += b.Width() * one.X
		if res == nil {
			res = one
			res.LeftOut = nil
		} else {
			res.FrameParts = append(res.FrameParts, one.FrameParts...)
			res.askToo(one)
		}
		res.Placed = append(res.Placed, place)
	}
	_, nowhere := p.Split(p.frames)
	for _, it := range nowhere {
		res.LeftOut = append(res.LeftOut, Part{Shape: it.Shape, Path: it.Path})
	}
	res.WidthMM, res.HeightMM = box.Width(), box.Height()
	return res
}

// askToo asks what another drawing of the file asks, once for all of them, and says what
// was found there of that.
func (r *Result) askToo(other *Result) {
	for _, q := range other.Questions {
		if slices.ContainsFunc(r.Questions, func(own ask.Question) bool { return own.ID == q.ID }) {
			continue
		}
		r.Questions = append(r.Questions, q)
		for _, f := range other.Findings {
			if f.Code == q.Code {
				r.Findings = append(r.Findings, f)
			}
		}
	}
}

// openPages is the result while it is asked about several frames.
func (p pages) openPages(asked ask.Question, f finding.Finding) *Result {
	res := p.nothing()
	res.Why = "The size is not settled: a question is open. Until it is answered the lengths are those the file itself reads."
	res.WidthMM, res.HeightMM = p.whole.Size(res.X)
	res.Findings, res.Questions = []finding.Finding{f}, []ask.Question{asked}
	return res
}
