package size

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Questions of this job beside the one about the size.
const (
	BorderQuestionID = Name + "/frame_border"   // a line of another look lies on the frame
	PieceQuestionID  = Name + "/frame_or_piece" // rectangles that may be edges of pieces
	NestedQuestionID = Name + "/nested_scale"   // parts placed at the ratio of two units
)

// Answers to them.
const (
	AnswerFrameOnly = "frame_only" // all of the lines are the frame
	AnswerCutBorder = "cut_border" // those of another look are an edge of the piece
	AnswerFrames    = "frame"      // page frames, not cut
	AnswerPieces    = "piece"      // edges of pieces, cut
	AnswerAsPlaced  = "as_placed"  // the parts are right as they are placed
	AnswerNotPlaced = "not_as_placed"
)

// border settles what the lines of another look on the frame are.
func (j *judge) border(f *framed) {
	if j.req.Replies[BorderQuestionID].Answer != AnswerFrameOnly || len(f.border) == 0 {
		return
	}
	out := map[[2]int]bool{}
	for _, p := range f.border {
		out[[2]int{p.Shape, p.Path}] = true
	}
	var rest []item
	for _, it := range f.work.items {
		j.budget.Step()
		if !out[[2]int{it.shape, it.path}] {
			rest = append(rest, it)
		}
	}
	f.parts = mergeParts(append(f.parts, f.border...))
	f.border = nil
	f.work = workOf(j.budget, rest)
	f.reach = f.reaches()
}

// askBorder asks whether a line that lies on the frame is cut.
func (j *judge) askBorder(f *framed, v *verdict) (ask.Question, finding.Finding, bool) {
	if len(f.border) == 0 || j.req.Replies[BorderQuestionID].Answer == AnswerCutBorder {
		return ask.Question{}, finding.Finding{}, false
	}
	look := j.drawing.Shapes[f.border[0].Shape].Layer
	q := ask.Question{
		ID: BorderQuestionID, Code: finding.FrameBorder, Places: places(f),
		Text: fmt.Sprintf("A line on layer %q lies exactly on the frame. Is it an edge of the piece that has to be cut?", look),
		Answers: []ask.Answer{
			{ID: AnswerCutBorder, Label: "Yes, cut it", Evidence: "Its layer or colour differs from the frame's."},
			{ID: AnswerFrameOnly, Label: "No, it is the frame too", Evidence: "It lies on the frame all along."},
		},
	}
	if j.isSheet(v.size) {
		slices.Reverse(q.Answers) // the edge of a sheet cannot be cut
	}
	return q, finding.New(finding.FrameBorder, len(f.border), finding.Values{"layer": finding.Text(look)}, q.Places...), true
}

// askPiece asks whether rectangles round the work are frames or are cut.
func (j *judge) askPiece(f *framed, v *verdict) (ask.Question, finding.Finding, bool) {
	if v.ask != nil || !j.pieceOpen(f, v) {
		return ask.Question{}, finding.Finding{}, false
	}
	at := places(f)
	if len(j.pages) > 1 {
		at = at[:0]
		for _, p := range j.pages {
			at = append(at, places(p)...)
		}
	}
	at = at[:min(len(at), finding.MaxPlaces)]
	what := fmt.Sprintf("%s × %s mm", short(f.u*v.x), short(f.v*v.x))
	raised := finding.New(finding.FramesOrPieces, max(len(j.pages), 1), finding.Values{"size": finding.Text(what)}, at...)
	why := "It is not the size of the sheet."
	if j.req.Stock.Form == workshop.Roll {
		why = "It has the layer and the colour of lines inside."
	}
	q := ask.Question{
		ID: PieceQuestionID, Code: finding.FramesOrPieces, Places: at,
		Text: raised.Fill("The drawing lies inside {count} {count:rectangle|rectangles} of {size}. {count:Is it a page frame, or an edge|Are they page frames, or edges} to be cut?"),
		Answers: []ask.Answer{
			{ID: AnswerFrames, Label: "Page frame: not cut", Evidence: "The rest of the drawing lies inside."},
			{ID: AnswerPieces, Label: "Edge of the piece: cut", Evidence: why},
		},
	}
	return q, raised, true
}

// nestedScale returns the scale at which parts of the drawing are placed
// against the rest, and those parts, where it is the ratio of two units: the
// least such scale. There are none where all that is drawn shares one scale.
func (j *judge) nestedScale() (float64, []item) {
	of := func(it item) float64 {
		if n := j.drawing.Shapes[it.shape].Nested; usable(n) {
			return n
		}
		return 1
	}
	same := func(a, b float64) bool { return math.Abs(a/b-1) <= 1e-6 }
	scale, differ := math.Inf(1), false
	for _, it := range j.items {
		j.budget.Step()
		n := of(it)
		differ = differ || !same(n, of(j.items[0]))
		if !same(n, 1) && n < scale && unitRatio(n) {
			scale = n
		}
	}
	if !differ {
		return scale, nil
	}
	return scale, slices.DeleteFunc(slices.Clone(j.items), func(it item) bool { return !same(of(it), scale) })
}

// askNested asks about parts whose own scale is the ratio of two units, the
// mark of a mix-up. Of other scales the reader has told.
func (j *judge) askNested() (*ask.Question, *finding.Finding) {
	scale, odd := j.nestedScale()
	if len(odd) == 0 {
		return nil, nil
	}
	at := j.placesOf(odd)
	f := finding.New(finding.InnerScale, len(odd), finding.Values{"scale": finding.Num(scale)}, at...)
	switch j.req.Replies[NestedQuestionID].Answer {
	case AnswerAsPlaced:
		f = f.As(finding.Warn)
		return nil, &f
	case AnswerNotPlaced:
		f = f.As(finding.Block)
		return nil, &f
	}
	return &ask.Question{
		ID: NestedQuestionID, Code: finding.InnerScale, Places: at,
		Text: fmt.Sprintf("Some parts are placed at %.6g times their own size, which is the ratio of two units. Are they right as placed?", scale),
		Answers: []ask.Answer{
			{ID: AnswerAsPlaced, Label: "Yes, they are right as placed", Evidence: "The file places them so."},
			{ID: AnswerNotPlaced, Label: "No, their size is wrong", Evidence: "Then the drawing has to be corrected and sent again."},
		},
	}, &f
}

// unitRatio reports whether a scale is the ratio of two units, feet included,
// in which site plans are drawn.
func unitRatio(scale float64) bool {
	const foot = 304.8 // mm
	if sameFactor(foot, scale) || sameFactor(1/foot, scale) {
		return true
	}
	for _, pair := range mixUps() {
		if sameFactor(unitByName(pair[0]).mm/unitByName(pair[1]).mm, scale) {
			return true
		}
	}
	return false
}
