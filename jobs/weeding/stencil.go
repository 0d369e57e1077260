package weeding

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// ID of the question about a stencil's outer rectangle, and of its answers.
const (
	QuestionEdge  = Name + "/stencil_edge"
	AnswerEdge    = "edge"
	AnswerOpening = "opening"
)

// edgeDrawn reports whether the outermost outline is the edge of the stencil's
// sheet, so that its inside is kept, and not its only opening. It asks where
// one plate-like outline holds several others.
func (s *reading) edgeDrawn() bool {
	switch s.req.Replies[QuestionEdge].Answer {
	case AnswerEdge:
		return true
	case AnswerOpening:
		return false
	}
	c := s.cells
	if !c.framed(s.budget) {
		return false
	}
	plate := c.Face(c.HalfEdges(c.Holes(0)[0])[0].Twin())
	if len(c.Holes(plate)) < 2 {
		return false
	}
	place := finding.Place{Box: c.box(s.budget, plate)}
	s.find(finding.New(finding.StencilEdge, 1, nil, place))
	s.ask(ask.Question{
		ID: QuestionEdge, Code: finding.StencilEdge, Places: []finding.Place{place},
		Text: "Is the outline round everything the edge of the stencil, or an opening in it?",
		Answers: []ask.Answer{
			{ID: AnswerEdge, Label: "The edge: what lies in it is the stencil", Evidence: "It holds several openings."},
			{ID: AnswerOpening, Label: "An opening: all of it falls out, but for what it holds", Evidence: "A stencil usually has no outline of its own."},
		},
	})
	return true
}
