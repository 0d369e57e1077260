package size

import (
	"cmp"
	"fmt"
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
	answerPage     = "page_" // and its number
)

// pages returns the frames of several drawings in one file: rectangles side by
// side that together hold nearly all of the artwork, each of them a frame, or
// all of them about to be asked whether they are. There are fewer than two where
// the file holds one drawing.
func (q *inquiry) pages() []*evidence.Frame {
	outer := q.Outermost()
	if len(outer) < 2 || !q.HoldMost(outer) {
		return nil
	}
	split, _ := q.Split(outer)
	pages := slices.DeleteFunc(split, func(f *evidence.Frame) bool {
		c := q.weighPage(f)
		return !f.OnLayer && (c.verdict.Role == decide.Part || !hasReading(c.readings, (*reading.Reading).Sure))
	})
	if slices.ContainsFunc(pages, func(f *evidence.Frame) bool { return f.OnLayer }) {
		pages = slices.DeleteFunc(pages, func(f *evidence.Frame) bool { return !f.OnLayer && q.mayBePiece(f) })
	}
	if len(pages) < 2 || !q.HoldMost(pages) {
		return nil
	}
	slices.SortStableFunc(pages, func(a, b *evidence.Frame) int {
		p, r := a.Quad.Bounds(), b.Quad.Bounds()
		return cmp.Or(cmp.Compare(p.Min.X, r.Min.X), cmp.Compare(r.Max.Y, p.Max.Y))
	})
	return pages
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
	return !f.OnLayer && q.LooksCut(f) && q.canCut(f, q.file.File.MM)
}

// several asks which of several drawings is meant, or goes on with what was
// answered.
func (q *inquiry) several(pages []*evidence.Frame) *Result {
	others := slices.ContainsFunc(pages, func(f *evidence.Frame) bool { return !q.mayBePiece(f) })
	if !others && !q.req.given() {
		switch q.req.Replies[PieceQuestionID].Answer {
		case "":
			return q.askPieces(pages)
		case AnswerPieces:
			return q.result(q.unframed())
		}
	}
	answer := q.req.Replies[PagesQuestionID].Answer
	if answer == AnswerAllPages {
		return q.all(pages)
	}
	if n, err := strconv.Atoi(strings.TrimPrefix(answer, answerPage)); err == nil && n >= 1 && n <= len(pages) {
		return q.page(pages[n-1])
	}
	return q.askPages(pages)
}

// page settles one of several drawings; the lines of the others are left out.
func (q *inquiry) page(f *evidence.Frame) *Result {
	of := *q
	of.whole = f.Work
	res := of.result(of.weighPage(f))
	mine := map[[2]int]bool{}
	for _, p := range f.Parts {
		mine[[2]int{p.Shape, p.Path}] = true
	}
	for _, it := range f.Work.Items {
		mine[[2]int{it.Shape, it.Path}] = true
	}
	for _, it := range q.Items {
		q.Budget.Step()
		if !mine[[2]int{it.Shape, it.Path}] {
			res.LeftOut = append(res.LeftOut, Part{Shape: it.Shape, Path: it.Path})
		}
	}
	return res
}

// all settles all of several drawings: by one factor as they lie where their
// frames agree on one, else each by its own frame, side by side.
func (q *inquiry) all(pages []*evidence.Frame) *Result {
	first := q.weighPage(pages[0])
	agree := true
	for _, f := range pages {
		c := q.weighPage(f)
		agree = agree && (alike(f, pages[0]) || settledAlike(c, first))
	}
	if agree {
		return q.merged(pages)
	}
	return q.sideBySide(pages)
}

// alike reports whether two frames are as large as drawn.
func alike(f, g *evidence.Frame) bool {
	return reading.SameFactor(f.U, g.U) && reading.SameFactor(f.V, g.V)
}

// settledAlike reports whether two verdicts accept one factor.
func settledAlike(c, d *judged) bool {
	if c.verdict.Size == decide.ByWord {
		return true
	}
	return c.verdict.Size == decide.ByFrame && d.verdict.Size == decide.ByFrame && !c.readings[0].Differs(&d.readings[0], max(c.frame.Far(), d.frame.Far()))
}

// merged settles several drawings by one factor, measured on the largest frame.
func (q *inquiry) merged(pages []*evidence.Frame) *Result {
	largest := *slices.MaxFunc(pages, func(a, b *evidence.Frame) int { return cmp.Compare(a.U*a.V, b.U*b.V) })
	var rest []evidence.Item
	for _, f := range pages {
		rest = append(rest, f.Work.Items...)
		if f.Quad.Corners != largest.Quad.Corners {
			largest.Parts = append(slices.Clone(largest.Parts), f.Parts...)
		}
	}
	_, nowhere := q.Split(pages)
	largest.Work = evidence.WorkOf(q.Budget, append(rest, nowhere...))
	c := q.weighPage(&largest)
	if c.verdict.Role == decide.Open {
		c.verdict.Role = decide.Frame // it was answered for all of them
	}
	return q.result(c)
}

// sideBySide gives each of several drawings the size of its own frame. A frame
// that has to be asked about is asked about first.
func (q *inquiry) sideBySide(pages []*evidence.Frame) *Result {
	var res *Result
	box, right := geometry.EmptyBox(), 0.0
	for _, f := range pages {
		c := q.weighPage(f)
		if c.verdict.Size == decide.Asked {
			return q.page(f)
		}
		one := q.page(f)
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
		}
		res.Placed = append(res.Placed, place)
	}
	_, nowhere := q.Split(pages)
	for _, it := range nowhere {
		res.LeftOut = append(res.LeftOut, Part{Shape: it.Shape, Path: it.Path})
	}
	res.WidthMM, res.HeightMM = box.Width(), box.Height()
	return res
}

// askPages asks which of several drawings is meant.
func (q *inquiry) askPages(pages []*evidence.Frame) *Result {
	var names []string
	asked := ask.Question{ID: PagesQuestionID, Code: finding.FramesSeveral}
	for i, f := range pages {
		res := q.page(f)
		a := ask.Answer{ID: answerPage + strconv.Itoa(i+1), Label: fmt.Sprintf("Only drawing %d, counted from the left", i+1)}
		a.Evidence = "Its frame measures " + q.sidesDrawn(f) + " as drawn."
		if len(res.Questions) == 0 {
			a.WidthMM, a.HeightMM = res.WidthMM, res.HeightMM
			a.Label += ", in a frame of " + res.Frame.Name + ": your work is " + extent(res.WidthMM, res.HeightMM, "mm")
			names = append(names, res.Frame.Name)
		}
		asked.Answers = append(asked.Answers, a)
		asked.Places = append(asked.Places, places(f)...)
	}
	all := ask.Answer{ID: AnswerAllPages, Label: "All of them, as pieces of one work", Evidence: "Each keeps the size that its own frame gives it."}
	if slices.Sort(names); len(slices.Compact(names)) > 1 {
		all.Evidence += " The frames are not of one size."
	}
	if res := q.all(pages); len(res.Questions) == 0 {
		all.WidthMM, all.HeightMM = res.WidthMM, res.HeightMM
	}
	asked.Answers = slices.Insert(asked.Answers, 0, all)
	asked.Places = asked.Places[:min(len(asked.Places), finding.MaxPlaces)]
	asked.Text = fmt.Sprintf("There are %d drawings in the file, each in a frame of its own. Which one is meant?", len(pages))
	return q.openPages(asked, finding.New(finding.FramesSeveral, len(pages), nil, asked.Places...))
}

// askPieces asks whether rectangles that could be cut are frames.
func (q *inquiry) askPieces(pages []*evidence.Frame) *Result {
	f := pages[0]
	var at []finding.Place
	for _, p := range pages[:min(len(pages), finding.MaxPlaces)] {
		at = append(at, places(p)...)
	}
	c := q.weighPage(f)
	k := c.readings[0].Factor()
	raised := finding.New(finding.FramesOrPieces, len(pages), finding.Values{"size": finding.Text(extent(f.U*k, f.V*k, "mm"))}, at...)
	piece := ask.Answer{ID: AnswerPieces, Label: "Edges of pieces: cut", Evidence: "They are smaller than the stock, so they can be cut."}
	piece.WidthMM, piece.HeightMM = q.whole.Size(q.file.File.MM)
	return q.openPages(ask.Question{
		ID: PieceQuestionID, Code: finding.FramesOrPieces, Places: at,
		Text:    raised.Fill("The drawing lies inside {count} rectangles of {size}. Are they page frames, or edges to be cut?"),
		Answers: []ask.Answer{piece, {ID: AnswerFrames, Label: "Page frames: not cut", Evidence: "The rest of the drawing lies inside."}},
	}, raised)
}

// openPages is the result while it is asked about several frames.
func (q *inquiry) openPages(asked ask.Question, f finding.Finding) *Result {
	res := q.nothing()
	res.Why = "The size is not settled: a question is open. Until it is answered the lengths are those the file itself reads."
	res.WidthMM, res.HeightMM = q.whole.Size(res.X)
	res.Findings, res.Questions = []finding.Finding{f}, []ask.Question{asked}
	return res
}
