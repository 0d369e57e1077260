package layout

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Panel is one part of a piece that is larger than the stock. It is laid, cut, weeded
// and hung like a piece of its own, by its map among the Maps of the layout, which is in
// the piece's coordinates.
type Panel struct {
	Code string `json:"code"` // "P1 of 3", in the order in which panels are hung
	// Box is the part of the piece that it shows, in the piece's coordinates, with its
	// overlaps and without what lies round it.
	Box geometry.Box `json:"box"`
	// Marks is how many register marks lie in its waste, or slits in its glue tabs, and Coded
	// that its code lies there.
	Marks int  `json:"marks,omitempty"`
	Coded bool `json:"coded,omitempty"`
}

// Panels say how a piece is divided; nil: it is made whole.
type Panels struct {
	List      []Panel       `json:"list"`
	Join      workshop.Join `json:"join"`
	CrossedMM float64       `json:"crossed_mm"` // kept length that seams cross, at both cuts of an overlap
	EqualMM   float64       `json:"equal_mm"`   // what seams between panels of equal size would cross
}

// Allowance says whether a piece may be made of panels.
type Allowance string

// The allowances.
const (
	PanelsAsked   Allowance = "" // where it needs them
	PanelsAllowed Allowance = "allowed"
	PanelsRefused Allowance = "refused"
)

// PanelOf returns the panel on a load, nil where there is none.
func (l *Layout) PanelOf(load *Load) *Panel {
	if l.Panels == nil || load.Map < 1 || load.Map > len(l.Panels.List) {
		return nil
	}
	return &l.Panels.List[load.Map-1]
}

// IDs of the question about panels and of its answers.
const (
	QuestionPanels = Name + "/panels"
	AnswerPanels   = "make"
	AnswerWhole    = "whole"
)

// mayPanel reports whether panels are made of a piece that does not fit, or asks.
func (l *Layout) mayPanel(piece Piece, req Request, d *division) bool {
	if req.Panels != PanelsAsked {
		return req.Panels == PanelsAllowed
	}
	switch req.Replies[QuestionPanels].Answer {
	case AnswerPanels:
		return true
	case AnswerWhole:
		return false
	}
	_, advice := nearest(piece.Bounds, req)
	work := piece.work()
	values := finding.Values{
		"width_mm": finding.Num(work.Width()), "height_mm": finding.Num(work.Height()), "panels": finding.Int(len(d.Panels)),
		"stock": finding.Text(req.Stock.Name), "joint": finding.Text(jointText(req.Stock.Joined())), "sizes": finding.Text(d.sizes()), "advice": finding.Text(advice),
	}
	place := finding.Place{Box: work}
	found := finding.New(finding.NeedsPanels, 1, values, place)
	l.Findings = append(l.Findings, found)
	l.Questions = append(l.Questions, ask.Question{
		ID: QuestionPanels, Code: finding.NeedsPanels, Places: []finding.Place{place},
		Text: found.Fill("The work is {width_mm} × {height_mm} mm, too large for {stock} in one piece. It takes {panels} panels, which are joined afterwards: {sizes}. Make them?"),
		Answers: []ask.Answer{
			{ID: AnswerPanels, Label: found.Fill("Yes: make {panels} panels"), Evidence: found.Fill("{joint} Joined they measure {width_mm} × {height_mm} mm."), WidthMM: work.Width(), HeightMM: work.Height()},
			{ID: AnswerWhole, Label: "No: it has to be one piece", Evidence: found.Fill("The plan then ends here. {advice} Or make the drawing smaller.")},
		},
	})
	return false
}

// jointText says how panels meet.
func jointText(j workshop.Join) string {
	switch j.Joint {
	case workshop.Butt:
		return "They meet edge to edge."
	case workshop.Tab:
		return fmt.Sprintf("Each has a tab of %g mm that is glued behind the next.", j.OverlapMM)
	}
	return fmt.Sprintf("Each lies over the one before by %g mm.", j.OverlapMM)
}
