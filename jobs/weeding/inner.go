package weeding

import (
	"slices"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// ID of the question about pieces inside holes, and of its answers.
const (
	QuestionInner = Name + "/pieces_in_holes"
	AnswerPieces  = "pieces"
	AnswerWaste   = "waste"
)

// sortInner decides what kept pieces inside other pieces are. Nothing holds them
// there once they are cut through: they fall out with the hole, and the drawing
// does not say whether they are wanted. On film the liner holds them.
func (r *reading) sortInner() {
	inner := r.inner()
	if len(inner) == 0 {
		return
	}
	var places []finding.Place
	for _, f := range inner {
		places = append(places, finding.Place{Box: r.cells.box(r.budget, f)})
	}
	found := finding.New(finding.PieceInHole, len(inner), nil, places...)
	n := finding.Values{"n": finding.Int(len(inner))}
	keep, throw := finding.Fill("Yes: keep {n:it as a part of its|them as parts of their} own", n), finding.Fill("No: throw {n:it|them} away with the hole", n)
	switch r.req.Replies[QuestionInner].Answer {
	case AnswerPieces:
		r.find(found.Answered(keep))
		return
	case AnswerWaste:
		r.find(found.Answered(throw))
		for _, f := range inner {
			r.kept[f] = false
		}
		return
	}
	r.find(found)
	if len(r.questions) > 0 { // one thing at a time: another reading may have none
		return
	}
	box := r.cells.bounds // either way, since the parts lie inside others
	r.ask(ask.Question{
		ID: QuestionInner, Code: finding.PieceInHole, Places: places,
		Text: finding.Fill("{n} {n:part lies|parts lie} inside a hole of another part, and {n:comes|come} out loose when the hole does. Do you want {n:it|them}?", n),
		Answers: []ask.Answer{
			{ID: AnswerPieces, Label: keep, Evidence: finding.Fill("{n:It is|They are} picked up beside the part round {n:it|them}.", n), WidthMM: box.Width(), HeightMM: box.Height()},
			{ID: AnswerWaste, Label: throw, Evidence: finding.Fill("Draw narrow strips to the part round {n:it|them} if {n:it is|they are} to stay in place.", n), WidthMM: box.Width(), HeightMM: box.Height()},
		},
	})
}

// inner lists the kept faces in the holes of bounded ones, of what is cut through
// and no stencil.
func (r *reading) inner() []int32 {
	if r.peeled() || r.req.Purpose == Stencil {
		return nil
	}
	var inner []int32
	seen := make([]bool, len(r.kept))
	for f := int32(1); f < int32(len(r.kept)); f++ {
		for _, hole := range r.cells.Holes(f) {
			for _, h := range r.cells.HalfEdges(hole) {
				r.budget.Step()
				if g := r.cells.Face(h.Twin()); g != f && r.kept[g] && !seen[g] {
					seen[g] = true
					inner = append(inner, g)
				}
			}
		}
	}
	slices.Sort(inner)
	return inner
}
