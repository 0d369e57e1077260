package size

import (
	"fmt"
	"slices"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
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

// sideQuestions adds what has to be asked beside the size.
func sideQuestions(q *inquiry, c *judged, o *outcome, res *Result) {
	add := func(asked ask.Question, f finding.Finding) {
		res.Questions, res.Findings = append(res.Questions, asked), append(res.Findings, f)
	}
	if c.frame != nil && len(c.frame.Border) > 0 && q.req.Replies[BorderQuestionID].Answer != AnswerCutBorder {
		add(askBorder(q, c, o))
	}
	if roleOpen(q, c, o) {
		add(askPiece(q, c, o))
	}
	asked, f := askNested(q, o)
	if asked != nil {
		res.Questions = append(res.Questions, *asked)
	}
	if f != nil {
		res.Findings = append(res.Findings, *f)
	}
}

// askBorder asks whether a line that lies on the frame is cut.
func askBorder(q *inquiry, c *judged, o *outcome) (ask.Question, finding.Finding) {
	look := q.Drawing.Shapes[c.frame.Border[0].Shape].Layer
	asked := ask.Question{
		ID: BorderQuestionID, Code: finding.FrameBorder, Places: places(c.frame),
		Text: fmt.Sprintf("A line on layer %q lies exactly on the frame. Is it an edge of the piece that has to be cut?", look),
		Answers: []ask.Answer{
			{ID: AnswerCutBorder, Label: "Yes, cut it", Evidence: "Its layer or colour differs from the frame's."},
			{ID: AnswerFrameOnly, Label: "No, it is the frame too", Evidence: "It lies on the frame all along."},
		},
	}
	isSheet := func(s reading.Named) bool { return s.Sheet && s.Name == o.frame }
	if slices.ContainsFunc(q.file.Sizes, isSheet) {
		slices.Reverse(asked.Answers) // the edge of a sheet cannot be cut
	}
	return asked, finding.New(finding.FrameBorder, len(c.frame.Border), finding.Values{"layer": finding.Text(look)}, asked.Places...)
}

// roleOpen reports whether it is asked on its own what the rectangle is.
func roleOpen(q *inquiry, c *judged, o *outcome) bool {
	return c.verdict.Role == decide.Open && o.ask == nil && q.req.Replies[PieceQuestionID].Answer == ""
}

// askPiece asks whether a rectangle round the work is a frame or is cut.
func askPiece(q *inquiry, c *judged, o *outcome) (ask.Question, finding.Finding) {
	f := c.frame
	raised := finding.New(finding.FramesOrPieces, 1, finding.Values{"size": finding.Text(workText(f.U*o.x, f.V*o.y))}, places(f)...)
	why := "It is smaller than the sheet, so it can be cut."
	if q.req.Stock.Form == workshop.Roll {
		why = "It has the layer and the colour of lines that are cut."
	}
	lies, within := "The rest of the drawing lies inside.", "The drawing lies"
	if len(f.Overhang(reading.AcceptMM/o.x)) > 0 {
		lies, within = "A part of the drawing lies inside.", "A part of the drawing lies"
	}
	frame := ask.Answer{ID: AnswerFrames, Evidence: lies}
	piece := ask.Answer{ID: AnswerPieces, Evidence: why}
	frame.WidthMM, frame.HeightMM = q.Measure(f, o.x, o.y)
	piece.WidthMM, piece.HeightMM = q.whole.Size(wholeFactor(q, o.x))
	frame.Label = "Page frame, not cut: your work is " + workText(frame.WidthMM, frame.HeightMM)
	piece.Label = "Edge of your work, cut: your work is " + workText(piece.WidthMM, piece.HeightMM)
	asked := ask.Question{
		ID: PieceQuestionID, Code: finding.FramesOrPieces, Places: places(f), Answers: []ask.Answer{frame, piece},
		Text: raised.Fill(within + " inside a rectangle of {size}. Is it a page frame, or an edge to be cut?"),
	}
	if o.cause == None && q.req.Stock.Form != workshop.Roll {
		slices.Reverse(asked.Answers) // its own size is that of a piece
	}
	return asked, raised
}

// askNested asks about parts whose own scale is the ratio of two units, the
// mark of a mix-up. Of other scales the reader has told. What the parts measure is
// known once the size is settled.
func askNested(q *inquiry, o *outcome) (*ask.Question, *finding.Finding) {
	scale, odd := q.Nested(reading.UnitRatio)
	if len(odd) == 0 {
		return nil, nil
	}
	at := q.placesOf(odd)
	f := finding.New(finding.InnerScale, len(odd), finding.Values{"scale": finding.Num(scale)}, at...)
	reply := q.req.Replies[NestedQuestionID].Answer
	switch {
	case reply == AnswerNotPlaced:
		f = f.As(finding.Block)
		return nil, &f
	case o.ask != nil:
		return nil, nil
	}
	parts := evidence.WorkOf(q.Budget, odd)
	placed := ask.Answer{ID: AnswerAsPlaced, Evidence: "The file places them so."}
	other := ask.Answer{ID: AnswerNotPlaced, Evidence: "Then nothing is cut: make them so large in your drawing, and send it again."}
	placed.WidthMM, placed.HeightMM = parts.Size(o.x)
	other.WidthMM, other.HeightMM = parts.Size(o.x / scale)
	now := workText(placed.WidthMM, placed.HeightMM)
	placed.Label = "Yes, they are " + now
	other.Label = "No, they have to be " + workText(other.WidthMM, other.HeightMM)
	if reply == AnswerAsPlaced {
		f = f.Answered(placed.Label)
		return nil, &f
	}
	return &ask.Question{
		ID: NestedQuestionID, Code: finding.InnerScale, Places: at, Answers: []ask.Answer{placed, other},
		Text: fmt.Sprintf("Some parts of your drawing are placed at %.6g times the size in which they were drawn, as when one unit is taken for another. Together they are %s now. Is that right?", scale, now),
	}, &f
}
