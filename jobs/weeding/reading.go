package weeding

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// reading are cells with every face read as kept or removed.
type reading struct {
	arranged
	sheet bool   // the sheet round the artwork is kept: a stencil
	kept  []bool // by face
}

// read reads every face as kept or removed.
func (a arranged) read() reading {
	r := reading{arranged: a}
	drawn, question, places := reader{a.budget, a.cells}.read(a.req.Replies)
	if question != nil {
		r.find(finding.New(finding.RegionsUnclear, len(places), nil, places...))
		if len(r.questions) == 0 { // one thing at a time: a weld may settle it
			r.ask(a.finished(*question))
		}
	}
	r.sheet = a.req.Purpose == Stencil && !r.edgeDrawn()
	r.kept = make([]bool, len(drawn))
	for f := range drawn {
		r.kept[f] = drawn[f] != r.sheet
	}
	r.sortInner()
	return r
}

// holds reports whether kept film lies in a hole of the face.
func (r *reading) holds(face int32) bool {
	for _, hole := range r.cells.Holes(face) {
		r.budget.Spend(len(r.cells.HalfEdges(hole)))
		for _, h := range r.cells.HalfEdges(hole) {
			if r.kept[r.cells.Face(h.Twin())] {
				return true
			}
		}
	}
	return false
}

// ink says for every face whether it lies inside what was drawn. Ink is kept,
// or cut out where the piece is a stencil.
type ink []bool

// IDs of the questions and answers about regions.
const (
	QuestionRegions = Name + "/regions"
	AnswerFill      = "fill"
	AnswerNest      = "nest"
)

// reader reads the faces of some cells.
type reader struct {
	budget *budget.Budget
	*cells
}

// byNest reads odd nest depths as ink.
func (c reader) byNest() ink {
	r := make(ink, len(c.Faces))
	for f := range r {
		r[f] = c.depth[f]%2 == 1
	}
	return r
}

// byFill reads the insides of filled shapes as ink, each by its own rule over
// all of its contours.
func (c reader) byFill() ink {
	r := make(ink, len(c.Faces))
	for f := range r {
		turns := map[int]int32{}
		for w := range c.round(c.budget, int32(f)) {
			if s := &c.strokes[w.stroke]; s.Fill != "" {
				turns[s.Shape] += w.turns
			}
		}
		for w := range c.round(c.budget, int32(f)) {
			s := &c.strokes[w.stroke]
			n := turns[s.Shape]
			r[f] = r[f] || s.Fill == drawing.NonZero && n != 0 || s.Fill == drawing.EvenOdd && n%2 != 0
		}
	}
	return r
}

// filled counts the closed cut strokes that are filled and that are not.
func filled(strokes []artwork.Stroke) (with, without int) {
	for i := range strokes {
		s := &strokes[i]
		switch {
		case !s.Operation.Cuts() || !s.Path.Closed || invisible(s):
		case s.Fill != "":
			with++
		default:
			without++
		}
	}
	return with, without
}

// read decides which faces are ink: by fill where every closed shape is
// filled, by nesting where none is. Where the two readings differ it takes the
// reply, or the likelier reading together with a question.
func (c reader) read(replies ask.Replies) (ink, *ask.Question, []finding.Place) {
	with, without := filled(c.strokes)
	nest := c.byNest()
	if with == 0 {
		return nest, nil, nil
	}
	fill := c.byFill()
	places := c.differ(fill, nest)
	if len(places) == 0 {
		return nest, nil, nil
	}
	switch replies[QuestionRegions].Answer {
	case AnswerFill:
		return fill, nil, nil
	case AnswerNest:
		return nest, nil, nil
	}
	q := ask.Question{
		ID: QuestionRegions, Code: finding.RegionsUnclear, Places: places,
		Text: "Shapes lie on or inside other shapes. Do they only cover each other, or does an inner one make a hole in the one round it?",
		Answers: []ask.Answer{
			c.answer(AnswerFill, "No holes but those that the fill shows: all that is filled is kept", fill, fmt.Sprintf("Of %d closed outlines %d are filled.", with+without, with)),
			c.answer(AnswerNest, "Every inner outline is a hole, and one inside a hole is kept again", nest, "Outlines count from the outside, and the first is kept."),
		},
	}
	if without > 0 {
		q.Answers[0], q.Answers[1] = q.Answers[1], q.Answers[0]
		return nest, &q, places
	}
	return fill, &q, places
}

// finished returns q as it is asked for the purpose: what the kept regions measure
// is the finished work, but for a stencil, whose sheet goes on round them.
func (a *arranged) finished(q ask.Question) ask.Question {
	for i := range q.Answers {
		if a.req.Purpose == Stencil {
			q.Answers[i].WidthMM, q.Answers[i].HeightMM = 0, 0
		}
	}
	return q
}

func (c reader) answer(id, label string, r ink, why string) ask.Answer {
	n, area, box := 0, 0.0, geometry.EmptyBox()
	for f, in := range r {
		if in {
			n++
			area += c.Faces[f].Area
			box = box.Union(c.box(c.budget, int32(f)))
		}
	}
	return ask.Answer{
		ID: id, Label: label, WidthMM: box.Width(), HeightMM: box.Height(),
		Evidence: fmt.Sprintf("%s It makes %s of %.0f mm² in all.", why, finding.Fill("{count} {count:region|regions}", finding.Values{"count": finding.Int(n)}), area),
		Values:   finding.Values{"regions": finding.Int(n), "area_mm2": finding.Num(area)},
	}
}

// differ lists the bounded faces that two readings take differently.
func (c reader) differ(a, b ink) []finding.Place {
	var places []finding.Place
	for f := 1; f < len(a); f++ {
		if a[f] != b[f] {
			places = append(places, finding.Place{Box: c.box(c.budget, int32(f))})
		}
	}
	return places
}
