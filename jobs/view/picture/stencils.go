package picture

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/weeding"
)

// bothStencils draws the two stencils that outlines round others may mean, side by
// side at one scale: the sheet, and blank where paint goes. Of every two outlines
// that lie in each other, one bounds the sheet from outside and one from inside.
func (p *page) bothStencils(q *ask.Question, m *weeding.Map) {
	if q.ID != weeding.QuestionEdge {
		return
	}
	largest := 0.0
	for _, a := range q.Answers {
		largest = math.Max(largest, math.Max(a.WidthMM, a.HeightMM))
	}
	var rings []geometry.Path
	for i := range m.Strokes {
		if s := &m.Strokes[i]; s.Operation.Cuts() && s.Path.Closed && s.Added == "" {
			rings = append(rings, s.Path)
		}
	}
	if largest == 0 || len(rings) == 0 {
		return
	}
	const cell, text = 464.0, 42.0
	scale := (cell - 60) / largest
	p.Open(geometry.Box{Max: geometry.Pt(2*cell, cell-60+text)}, figure.Inset{Tight: true})
	rings = p.DetailOf(rings, len(q.Answers)).Shown
	for i, a := range q.Answers {
		centre := geometry.Pt((float64(i)+0.5)*cell, text+(cell-60)/2)
		shown := rings
		if a.ID == weeding.AnswerOpening {
			half := geometry.Pt(a.WidthMM, a.HeightMM).Mul(0.5)
			middle := m.Bounds.Centre()
			shown = append([]geometry.Path{geometry.BoxAround(middle.Sub(half), middle.Add(half)).Path()}, rings...)
		}
		c := m.Bounds.Centre()
		move := geometry.Translate(-c.X, -c.Y).Then(geometry.Scale(scale, scale)).Then(geometry.Translate(centre.X, centre.Y))
		drawn := p.Project(appendImages(nil, shown, move))
		p.Fill(patternOf(weeding.Kept), drawn)
		p.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, drawn...)
		p.Label(p.View.Apply(geometry.Pt(centre.X, 14)), 19, answerNumber(i)+sizeText(a.WidthMM, a.HeightMM))
	}
	p.Foot += 12
	p.Legend("the stencil; paint goes where it is blank inside", func(b geometry.Box) {
		p.Fill(patternOf(weeding.Kept), []geometry.Path{b.Path()})
	})
}
