package meaning

import (
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// ends settles gaps and judges lines that stay open.
func (k *desk) ends() {
	e := mend.CheckEnds(k.effort, k.strokes, k.lim)
	if e.Gaps.Count > 0 && k.askGaps(e.Gaps) == "join" {
		k.strokes = mend.CloseGaps(k.effort, k.strokes, k.lim)
		k.mend() // what is joined now may lie on another line
		e = mend.CheckEnds(k.effort, k.strokes, k.lim)
	}
	leak := finding.Warn
	if k.req.Stock.Liner || k.req.Purpose == stencil {
		leak = finding.Block // what lies inside cannot come away by itself
	}
	k.spots(finding.OpenOutline, leak, e.Leaks)
	if k.req.Stock.Liner {
		return // the weeding tells of free ends in film, which are no slits there
	}
	k.spots(finding.Spur, finding.Warn, e.Spurs)
	k.spots(finding.OpenLine, finding.Warn, e.Open)
}

func (k *desk) spots(code finding.Code, severity finding.Severity, s mend.Spots) {
	if s.Count > 0 {
		k.note(finding.New(code, s.Count, finding.Values{"most_mm": finding.Num(s.MostMM)}, s.Places...).As(severity))
	}
}

func (k *desk) askGaps(gaps mend.Spots) string {
	f := finding.New(finding.Gap, gaps.Count, finding.Values{"most_mm": finding.Num(gaps.MostMM)}, gaps.Places...)
	box := runBox(k.budget, k.strokes)
	return k.ask(f, sized(k, ask.Question{
		ID:   "gaps",
		Text: f.Fill("Lines stop short of each other in {count} {count:place|places}, by up to {most_mm} mm. Should they meet there?"),
		Answers: []ask.Answer{
			{ID: "join", Label: "Join them with short straight lines", Evidence: "Gaps under " + number.People(k.lim.GapMM) + " mm are seldom meant, and what lies inside an open outline does not come away."},
			{ID: "leave", Label: "Leave them open", Evidence: "Tabs, hinges and dashes that are drawn one by one stay as they are."},
		},
	}, box, box))
}
