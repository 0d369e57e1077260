package size

import (
	"knifedesk/geometry"
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

// withBeside is the result for work of which a part may lie beside its frame: that is
// asked about once the size is settled.
func (q *inquiry) withBeside(c *judged) *Result {
	if c.frame == nil || c.verdict.Role != decide.Frame {
		return q.result(c)
	}
	items, away := c.frame.Apart()
	reply := q.req.Replies[BesideQuestionID].Answer
	if len(items) > 0 && reply == AnswerLeaveOut {
		res := q.without(c, items)
		res.Findings = append(res.Findings, q.besideFinding(c, items, away*res.X).Answered("leave out"))
		return res
	}
	res := q.result(c)
	if len(items) == 0 || len(res.Questions) > 0 {
		return res
	}
	raised := q.besideFinding(c, items, away*res.X)
	if reply == AnswerCutToo {
		res.Findings = append(res.Findings, raised.Answered("cut too"))
		return res
	}
	leave := ask.Answer{ID: AnswerLeaveOut, Evidence: "A gap parts {count:it|them} from the rest of the drawing."}
	if out := q.without(c, items); len(out.Questions) == 0 {
		leave.WidthMM, leave.HeightMM = out.WidthMM, out.HeightMM
	}
	cut := ask.Answer{ID: AnswerCutToo, Evidence: "{count:It is|They are} drawn like the rest.", WidthMM: res.WidthMM, HeightMM: res.HeightMM}
	leave.Label = "No, leave {count:it|them} out: your work is " + workText(leave.WidthMM, leave.HeightMM)
	cut.Label = "Yes, cut {count:it|them} too: your work is " + workText(cut.WidthMM, cut.HeightMM)
	for _, a := range []*ask.Answer{&leave, &cut} {
		a.Label, a.Evidence = raised.Fill(a.Label), raised.Fill(a.Evidence)
	}
	res.Findings = append(res.Findings, raised)
	res.Questions = append(res.Questions, ask.Question{
		ID: BesideQuestionID, Code: finding.FrameBeside, Places: raised.Places, Answers: []ask.Answer{leave, cut},
		Text: raised.Fill("{count} {count:line lies|lines lie} {where} the frame of your drawing, {away} mm away from it. {count:Is it|Are they} cut as well?"),
	})
	return res
}

// without is the result for the drawing without some items.
func (q *inquiry) without(c *judged, items []evidence.Item) *Result {
	var out []Part
	left := map[[2]int]bool{}
	for _, it := range items {
		left[[2]int{it.Shape, it.Path}] = true
		out = append(out, Part{Shape: it.Shape, Path: it.Path})
	}
	keep := func(all []evidence.Item) evidence.Work {
		var kept []evidence.Item
		for _, it := range all {
			q.Budget.Step()
			if !left[[2]int{it.Shape, it.Path}] {
				kept = append(kept, it)
			}
		}
		return evidence.WorkOf(q.Budget, kept)
	}
	of, f := *q, *c.frame
	of.whole, f.Work = keep(q.whole.Items), keep(f.Work.Items)
	res := of.result(of.weigh(&f))
	q.fault = of.fault
	res.LeftOut = out
	return res
}

// besideFinding tells what lies beside the frame, so many mm away.
func (q *inquiry) besideFinding(c *judged, items []evidence.Item, away float64) finding.Finding {
	box, frame := geometry.EmptyBox(), c.frame.Quad.Bounds()
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
	return finding.New(finding.FrameBeside, len(items), finding.Values{"away": finding.Num(away), "where": finding.Text(where)}, q.placesOf(items)...)
}
