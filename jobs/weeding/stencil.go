package weeding

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// ID of the question about a stencil's outer outlines, and of its answers.
const (
	QuestionEdge  = Name + "/stencil_edge"
	AnswerEdge    = "edge"
	AnswerOpening = "opening"
)

// edgeShare is the share of its box that an outline fills when it looks like the
// edge of a sheet: a bold B fills 0.90, a rectangle with round corners of an
// eighth of its shorter side over 0.98.
const edgeShare = 0.95

// edgeDrawn reports whether the outermost outlines are edges of stencil sheets,
// so that their inside is kept, and not openings. Both are drawn alike: it asks
// wherever an outline that could be an edge holds others, one or many.
func (s *reading) edgeDrawn() bool {
	edges, plates := s.possibleEdges()
	if len(edges) == 0 {
		return false
	}
	switch s.req.Replies[QuestionEdge].Answer {
	case AnswerEdge:
		return true
	case AnswerOpening:
		return false
	}
	s.find(finding.New(finding.StencilEdge, len(edges), nil, edges...))
	answers := s.edgeAnswers(edges)
	if !plates {
		answers[0], answers[1] = answers[1], answers[0]
	}
	s.ask(ask.Question{
		ID: QuestionEdge, Code: finding.StencilEdge, Places: edges, Answers: answers,
		Text: finding.Fill("{n:One outline lies|Some outlines lie} round other shapes. Is {n:it|each of them} the outer edge of the stencil, or an opening to paint through?", finding.Values{"n": finding.Int(len(edges))}),
	})
	return plates
}

// possibleEdges lists the outermost outlines that hold others, if they could be
// edges, and says whether they look it: where all of them look like plates and
// take most of the drawing, or a single one holds everything.
func (s *reading) possibleEdges() (edges []finding.Place, plates bool) {
	c := s.cells
	plates = true
	outlines, all, theirs := 0, 0.0, 0.0
	for _, outline := range c.Holes(0) {
		box, holds := s.outermost(outline)
		if box.Empty() {
			continue
		}
		outlines++
		area := box.Width() * box.Height()
		all += area
		if holds {
			theirs += area
			edges = append(edges, finding.Place{Box: box})
			plates = plates && c.plateLike(s.budget, outline, edgeShare)
		}
	}
	if outlines > 1 && (!plates || theirs < all/2) {
		return nil, false
	}
	return edges, plates
}

// outermost returns the box of what a hole of the outside bounds, empty where
// that is nothing, and whether a face in it holds others.
func (s *reading) outermost(outline planar.Ring) (box geometry.Box, holds bool) {
	c := s.cells
	box = geometry.EmptyBox()
	last := int32(0)
	for _, h := range c.HalfEdges(outline) {
		s.budget.Step()
		f := c.Face(h.Twin())
		if f == last {
			continue
		}
		last = f
		if f != 0 {
			box = box.Union(c.box(s.budget, f))
			holds = holds || s.boundsFaces(f)
		}
	}
	return box, holds
}

// boundsFaces reports whether other faces lie in the holes of a face.
func (s *reading) boundsFaces(face int32) bool {
	for _, hole := range s.cells.Holes(face) {
		for _, h := range s.cells.HalfEdges(hole) {
			s.budget.Step()
			if s.cells.Face(h.Twin()) != face {
				return true
			}
		}
	}
	return false
}

// edgeAnswers are the two readings with the size of the sheet that each makes.
func (s *reading) edgeAnswers(edges []finding.Place) []ask.Answer {
	openings := s.cells.bounds
	larger := openings.Grow(s.limits.Stencil.OrDefault().MarginMM)
	if s.drawn != nil {
		larger = *s.drawn
	}
	edge := edges[0].Box
	return []ask.Answer{
		{
			ID: AnswerEdge, Label: "The outer edge of the stencil; you paint through the shapes inside",
			Evidence: "What lies outside it is no part of the stencil.",
			WidthMM:  edge.Width(), HeightMM: edge.Height(),
		},
		{
			ID: AnswerOpening, Label: "An opening; you paint between it and the shapes inside, which stay, held by narrow strips (bridges) or by the backing paper",
			Evidence: fmt.Sprintf("The opening is then %.0f × %.0f mm, and the sheet goes on round it.", edge.Width(), edge.Height()),
			WidthMM:  larger.Width(), HeightMM: larger.Height(),
		},
	}
}
