package films

import (
	"context"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// groupRest is the subject of the question that stands for those that are too many.
const groupRest = "rest"

// mostAsked bounds the questions that are open at once.
const mostAsked = 3

// Resolve makes the artwork of one film of d at the true size s, or where the request
// knows no films, what meaning.Resolve makes of it. Its bounds are those of the whole
// work with its register marks, whichever film it is.
//
// The errors are those of meaning.Resolve.
func Resolve(ctx context.Context, d *drawing.Drawing, s *size.Result, req Request) (*artwork.Artwork, error) {
	if req.Layering == nil {
		return meaning.Resolve(ctx, d, s, req.Request)
	}
	k := &desk{Request: req, drawing: d, size: s}
	if err := budget.Run(ctx, func(b *budget.Budget) {
		k.budget = b
		k.assign()
	}); err != nil {
		return nil, err
	}
	sheets, err := k.each(ctx)
	if err != nil {
		return nil, err
	}
	var a *artwork.Artwork
	stopped := budget.Run(ctx, func(b *budget.Budget) {
		k.budget = b
		a, err = k.artwork(sheets)
	})
	if stopped != nil {
		return nil, stopped
	}
	return a, err
}

// each resolves every film by itself, as if the drawing had no other. What is found in
// the film that is cut is told, and of the others what stops the plan, since the films
// fit each other.
func (k *desk) each(ctx context.Context) ([]*artwork.Artwork, error) {
	s := *k.size
	s.Known = nil // it is the length of the whole, not of each film
	var all []*artwork.Artwork
	for i := range k.Layering.Films {
		req := k.Request.Request
		req.Only = make([]bool, len(k.of))
		for shape, film := range k.of {
			req.Only[shape] = film == i+1
		}
		if !slices.Contains(req.Only, true) {
			all = append(all, &artwork.Artwork{})
			k.noteEmpty(i)
			continue
		}
		a, err := meaning.Resolve(ctx, k.drawing, &s, req)
		if err != nil {
			return nil, err
		}
		k.tell(a, i+1 == k.Layering.Cut)
		all = append(all, a)
	}
	return all, nil
}

// noteEmpty says that nothing of the drawing is of the i-th film, once all shapes have
// one.
func (k *desk) noteEmpty(i int) {
	if len(k.questions) == 0 {
		k.note(finding.New(finding.FilmEmpty, 1, finding.Values{"film": finding.Text(k.Layering.Films[i].Name)}))
	}
}

// noteArealess says that a film has shapes, none of which closes.
func noteArealess(k *desk, i int) {
	if slices.Contains(k.of, i+1) {
		k.noteEmpty(i)
	}
}

// tell takes over what was found and is asked of one film, each once.
func (k *desk) tell(a *artwork.Artwork, cut bool) {
	onto := geometry.Translate(a.Origin.X, a.Origin.Y)
	for _, f := range a.Findings {
		f.Places = finding.Moved(f.Places, onto)
		if f.Code == finding.FillOutline || !cut && f.Severity != finding.Block && f.Severity != finding.Ask {
			continue
		}
		k.note(f)
	}
	for _, q := range a.Questions {
		if !slices.ContainsFunc(k.questions, func(had ask.Question) bool { return had.ID == q.ID }) {
			k.questions = append(k.questions, q.Moved(onto))
		}
	}
}

// artwork makes the artwork of the film that is cut.
func (k *desk) artwork(sheets []*artwork.Artwork) (*artwork.Artwork, error) {
	l, err := k.lay(sheets)
	if err != nil {
		return nil, err
	}
	a := &artwork.Artwork{SavedMM: sheets[k.Layering.Cut-1].SavedMM, Turned: sheets[k.Layering.Cut-1].Turned}
	if l != nil {
		k.judge(l)
		a.Stack = k.stack(l)
		a.Strokes = k.strokes(l, sheets[k.Layering.Cut-1], a.Stack)
	}
	a.Findings = k.findings
	a.Questions = ask.Bounded(k.questions, max(1, mostAsked-len(k.Replies)), ask.Question{
		ID:   ask.ID(artwork.Name, groupRest),
		Text: "Some shapes of the drawing can be cut in more than one way. Should each be cut in its likeliest way?",
		Answers: []ask.Answer{{
			ID: ask.Suggested, Label: "Yes, take the first answer to each question of this group",
			Evidence: "The first answer is the likeliest; the plan lists what was taken. Answer a question by itself where you know better.",
		}},
	})
	k.toOrigin(a)
	return a, nil
}

// toOrigin moves the lower left corner of the work, with its marks, to the origin.
func (k *desk) toOrigin(a *artwork.Artwork) {
	box := geometry.Box{}
	if a.Stack != nil {
		box = a.Stack.Work
		for _, m := range a.Stack.Marks {
			box = box.Union(m.Bounds())
		}
	}
	a.Origin, a.Bounds = box.Min, geometry.Box{Max: geometry.Pt(box.Width(), box.Height())}
	shift := geometry.Translate(-box.Min.X, -box.Min.Y)
	for i := range a.Strokes {
		a.Strokes[i].Path = a.Strokes[i].Path.Transform(shift)
	}
	if a.Stack != nil {
		a.Stack.Move(shift)
	}
	for i := range a.Findings {
		a.Findings[i].Places = finding.Moved(a.Findings[i].Places, shift)
	}
	for i := range a.Questions {
		a.Questions[i] = a.Questions[i].Moved(shift)
	}
}

// judge says what is wrong with the films as they lie on each other.
func (k *desk) judge(l *lay) {
	base := k.Layering.Films[l.order[0]]
	values := finding.Values{"film": finding.Text(base.Name)}
	switch base.Family {
	case workshop.PermanentFilm, workshop.CastFilm:
	case workshop.RemovableFilm:
		k.note(finding.New(finding.BaseRemovable, 1, values))
	default:
		k.note(finding.New(finding.BaseUnknown, 1, values))
	}
	for i, f := range k.Layering.Films {
		if l.shown[i].Area() < tinyMM2 && l.areas[i].Area() > 0 {
			k.note(finding.New(finding.FilmHidden, 1, finding.Values{"film": finding.Text(f.Name)}))
		}
	}
}
