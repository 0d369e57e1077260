package proof

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
)

// work is one size of the drawing, to be printed.
type work struct {
	title string // which size it is
	box   geometry.Box
	lines []line
}

// line is a path in mm as it is inked.
type line struct {
	path  geometry.Path
	box   geometry.Box
	width float64   // mm
	dash  []float64 // mm
	grey  int       // 0: black
}

// mostSizes bounds the sizes that are printed of one drawing.
const mostSizes = 4

// worksOf lists what is printed: the artwork, or where the size is open the drawing
// under the likeliest answers.
func worksOf(b *budget.Budget, r *view.Results) ([]work, error) {
	if r.Artwork != nil {
		w, err := artworkOf(b, r)
		return []work{w}, err
	}
	var all []work
	for _, q := range r.Size.Questions {
		for i := range q.Answers {
			if a := &q.Answers[i]; q.ID == size.QuestionID && a.WidthMM > 0 && len(all) < mostSizes {
				w, err := under(b, r, a)
				if err != nil {
					return nil, err
				}
				all = append(all, w)
			}
		}
	}
	for i := range all {
		all[i].title = fmt.Sprintf("Size %d of %d: %s", i+1, len(all), all[i].title)
	}
	if len(all) > 0 {
		return all, nil
	}
	w, err := drawn(b, r, r.Size)
	w.title = "As the file itself reads, which is not settled: " + measures(w.box)
	return []work{w}, err
}

func measures(box geometry.Box) string {
	return fmt.Sprintf("%s × %s mm", number.People(box.Width()), number.People(box.Height()))
}

// artworkOf is the artwork with the lines that wait for an answer.
func artworkOf(b *budget.Budget, r *view.Results) (work, error) {
	w := work{box: geometry.EmptyBox()}
	for i := range r.Artwork.Strokes {
		s := &r.Artwork.Strokes[i]
		l := inked(s.Operation)
		l.path = s.Path
		w.add(b, l)
	}
	aside, err := meaning.AsideOf(b, &r.Drawing.Drawing, r.Size, r.Artwork)
	for i := range aside {
		if aside[i].Open {
			w.add(b, line{path: aside[i].Path, width: 0.25, grey: 120})
		}
	}
	w.title = "True size: " + measures(w.box)
	return w, err
}

// inked says how the lines of an operation look: by dash and weight, as in the
// pictures.
func inked(o artwork.Operation) line {
	switch o {
	case artwork.Score:
		return line{width: 0.3, dash: []float64{4, 2}}
	case artwork.Perforate:
		return line{width: 0.4, dash: []float64{1.2, 1.2}}
	case artwork.Pen:
		return line{width: 0.2, grey: 110}
	}
	return line{width: 0.35}
}

// under is the drawing as large as an answer has it.
func under(b *budget.Budget, r *view.Results, a *ask.Answer) (work, error) {
	x, y := a.Values.Num("factor_x"), a.Values.Num("factor_y")
	s := *r.Size
	s.Transform, s.Placed = geometry.Scale(x, y), nil
	if a.ID == size.AnswerPiece {
		s.FrameParts = nil
	}
	w, err := drawn(b, r, &s)
	w.title = a.Label
	return w, err
}

// drawn is all that is drawn but for the frame, at a size.
func drawn(b *budget.Budget, r *view.Results, s *size.Result) (work, error) {
	all := artwork.Artwork{Aside: []artwork.Span{{To: math.MaxInt}}}
	lines, err := meaning.AsideOf(b, &r.Drawing.Drawing, s, &all)
	w := work{box: geometry.EmptyBox()}
	for i := range lines {
		w.add(b, line{path: lines[i].Path, width: 0.35})
	}
	return w, err
}

func (w *work) add(b *budget.Budget, l line) {
	l.box = l.path.BoundsIn(b)
	w.box = w.box.Union(l.box)
	w.lines = append(w.lines, l)
}
