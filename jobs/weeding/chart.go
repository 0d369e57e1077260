package weeding

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Chart maps what stays and what goes when the artwork is weeded.
//
// The cut strokes are flattened within req.ChordMM and arranged into regions.
// Crossing outlines are joined where that was decided. Every region is read as
// kept or removed, stencil islands are bridged, film gets its weed border and
// relief lines, and the removed regions are put into the order in which to
// peel them. Where two readings are possible, the map follows the likelier one
// and carries the question.
//
// What is wrong with the artwork is a finding in the map. The error is one of
// planar.Arrange, a coordinate that is not finite or beyond the kernel's reach,
// or the cause for which ctx ended.
func Chart(ctx context.Context, a *artwork.Artwork, req Request) (m *Map, err error) {
	stopped := budget.Run(ctx, func(b *budget.Budget) { m, err = chart(b, a, req) })
	if stopped != nil {
		return nil, stopped
	}
	return m, err
}

func chart(b *budget.Budget, a *artwork.Artwork, req Request) (*Map, error) {
	cells, err := newTerms(b, req).arrange(a)
	if err != nil {
		return nil, err
	}
	bridged, err := cells.read().bridge()
	if err != nil {
		return nil, err
	}
	return bridged.number().split().measure().weigh().steps(), nil
}

// terms are what every step goes by.
type terms struct {
	budget *budget.Budget
	req    Request
	limits workshop.Limits
	chord  float64
}

func newTerms(b *budget.Budget, req Request) terms {
	t := terms{budget: b, req: req, limits: req.Stock.Limits, chord: req.ChordMM}
	if t.limits == (workshop.Limits{}) {
		t.limits = workshop.DefaultLimits()
	}
	if t.chord <= 0 {
		t.chord = geometry.DefaultChord
	}
	return t
}

// peeled reports whether removed film is pulled off; card drops out and does
// not tear.
func (t *terms) peeled() bool { return t.req.Stock.Liner }

func (t *terms) times() Times {
	if t.req.Times != nil {
		return *t.req.Times
	}
	return DefaultTimes()
}

// notes are what the steps so far have found and ask.
type notes struct {
	findings  []finding.Finding
	questions []ask.Question
}

func (n *notes) find(f finding.Finding) { n.findings = append(n.findings, f) }

func (n *notes) ask(q ask.Question) { n.questions = append(n.questions, q) }

// arranged are the cells of the strokes, crossing outlines joined where that was
// decided.
type arranged struct {
	terms
	notes
	strokes []artwork.Stroke
	drawn   *geometry.Box // the frame round a stencil's openings, where there is one
	cells   *cells
}

// arrange makes the cells.
func (t terms) arrange(art *artwork.Artwork) (a arranged, err error) {
	a = arranged{terms: t, strokes: art.Strokes, drawn: art.Sheet}
	if a.cells, err = arrange(t.budget, art.Strokes, t.chord); err != nil {
		return a, err
	}
	x := crossingsOf(t.budget, a.cells)
	if x.none() {
		return a, nil
	}
	answer := t.req.Replies[QuestionWeld].Answer
	if t.req.Weld || answer == AnswerWeld {
		a.strokes = weld(t.budget, a.cells, x)
		a.cells, err = arrange(t.budget, a.strokes, t.chord)
		return a, err
	}
	if answer != AnswerApart {
		return a, a.askWeld(x)
	}
	return a, nil
}
