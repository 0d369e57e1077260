package size

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/number"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
)

// BesideQuestionID is the ID of the question whether lines that lie wholly beside the
// frame are cut.
const BesideQuestionID = Name + "/beside_frame"

// Answers to it.
const (
	AnswerLeaveOut = "leave_out"
	AnswerCutToo   = "cut_too"
)

// aside is what lies beside the frame of a drawing, the frame's Aside, so far away in
// drawing units.
type aside struct {
	*inquiry
	judged *judged
	away   float64
}

// withAside is the result for work of which a part may lie beside its frame. That is
// asked about once the size is settled, and before it where the frame is one by its layer:
// the answers about the size tell how large the work is, which hangs on it.
func withAside(q *inquiry, c *judged) *Result {
	sizeOpen := c.verdict.Size == decide.Asked
	switch {
	case c.frame == nil:
		return q.result(c)
	case c.verdict.Role == decide.Frame, sizeOpen && c.frame.OnLayer:
	case !sizeOpen:
		return q.result(c)
	default: // the answer about the size says what the rectangle is
		frame := c.frame.Parts[0]
		isFrame := func(p Part) bool { return p.Shape == frame.Shape && p.Path == frame.Path }
		if res := q.result(c); len(res.Questions) > 0 || !slices.ContainsFunc(res.FrameParts, isFrame) {
			return res
		}
	}
	a := aside{inquiry: q, judged: c}
	c.frame.Aside, a.away = c.frame.Apart()
	reply := q.req.Replies[BesideQuestionID].Answer
	if len(c.frame.Aside) > 0 && reply == AnswerLeaveOut {
		res := a.leftOut()
		res.Findings = append(res.Findings, a.finding(res).Answered("leave out"))
		return res
	}
	res := q.result(c)
	switch {
	case len(c.frame.Aside) == 0 || len(res.Questions) > 0 && !sizeOpen:
	case reply == AnswerCutToo:
		res.Findings = append(res.Findings, a.finding(res).Answered("cut too"))
	default:
		a.ask(res)
	}
	return res
}

// ask adds the question to what the drawing is with all of it.
func (a *aside) ask(res *Result) {
	sizeOpen := len(res.Questions) > 0
	if sizeOpen {
		code := res.Questions[0].Code
		res.Questions, res.Findings = nil, slices.DeleteFunc(res.Findings, func(f finding.Finding) bool { return f.Code == code })
	}
	raised := a.finding(res)
	leave := ask.Answer{ID: AnswerLeaveOut, Label: "No, leave {count:it|them} out", Evidence: "A gap parts {count:it|them} from the rest of the drawing."}
	if out := a.leftOut(); len(out.Questions) == 0 { // else its size is asked then
		leave.WidthMM, leave.HeightMM = out.WidthMM, out.HeightMM
		leave.Label += ": your work is " + workText(leave.WidthMM, leave.HeightMM)
	}
	cut := ask.Answer{ID: AnswerCutToo, Label: "Yes, cut {count:it|them} too", Evidence: "{count:It is|They are} drawn like the rest."}
	if !sizeOpen {
		cut.WidthMM, cut.HeightMM = res.WidthMM, res.HeightMM
		cut.Label += ": your work is " + workText(cut.WidthMM, cut.HeightMM)
	}
	for _, answer := range []*ask.Answer{&leave, &cut} {
		answer.Label, answer.Evidence = raised.Fill(answer.Label), raised.Fill(answer.Evidence)
	}
	res.Findings = append(res.Findings, raised)
	res.Questions = append(res.Questions, ask.Question{
		ID: BesideQuestionID, Code: finding.FrameBeside, Places: raised.Places, Answers: []ask.Answer{leave, cut},
		Text: raised.Fill("{count} {count:line lies|lines lie} {where} the frame of your drawing, {away} away from it. {count:Is it|Are they} cut as well?"),
	})
}

// leftOut is the result for the drawing without it.
func (a *aside) leftOut() *Result {
	var parts []Part
	left := map[[2]int]bool{}
	for _, it := range a.judged.frame.Aside {
		left[[2]int{it.Shape, it.Path}] = true
		parts = append(parts, Part{Shape: it.Shape, Path: it.Path})
	}
	keep := func(all []evidence.Item) evidence.Work {
		var kept []evidence.Item
		for _, it := range all {
			a.Budget.Step()
			if !left[[2]int{it.Shape, it.Path}] {
				kept = append(kept, it)
			}
		}
		return evidence.WorkOf(a.Budget, kept)
	}
	of, f := *a.inquiry, *a.judged.frame
	of.whole, f.Work, f.Aside = keep(a.whole.Items), keep(f.Work.Items), nil
	res := of.result(of.weigh(&f))
	a.fault = of.fault
	res.LeftOut = parts
	return res
}

// finding tells what lies beside the frame at the size of a result.
func (a *aside) finding(res *Result) finding.Finding {
	items := a.judged.frame.Aside
	box, frame := geometry.EmptyBox(), a.judged.frame.Quad.Bounds()
	for _, it := range items {
		box = box.Union(it.Box)
	}
	where := "beside"
	switch {
	case box.Min.X > frame.Max.X:
		where = "to the right of"
	case box.Max.X < frame.Min.X:
		where = "to the left of"
	case box.Min.Y > frame.Max.Y:
		where = "above"
	case box.Max.Y < frame.Min.Y:
		where = "below"
	}
	away := number.People(a.away*res.X) + " mm"
	if res.Cause == Unsettled {
		away = a.tell.asDrawn(a.away) + " as drawn"
	}
	return finding.New(finding.FrameBeside, len(items), finding.Values{"away": finding.Text(away), "where": finding.Text(where)}, a.placesOf(items)...)
}
