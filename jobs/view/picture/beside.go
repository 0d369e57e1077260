package picture

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
)

// The cells in which answers about the size are compared, in pixels.
const (
	cellsInRow = 2
	mostCells  = 6
	cellWidth  = 464.0
	cellText   = 42.0  // below the drawing in a cell, for its text
	cellRoom   = 200.0 // for the drawing in a cell, at most
	cellGap    = 26.0  // between the work and the card
)

// besideCard draws, for each answer that says how large the finished work is,
// the work beside the outline of a bank card at the same scale, which is another
// one in each cell. The numbers are those of the answers.
func (p *page) besideCard(q *ask.Question, lines []geometry.Path) {
	var shown []int
	for i, a := range q.Answers {
		if a.WidthMM > 0 && a.HeightMM > 0 && len(shown) < mostCells {
			shown = append(shown, i)
		}
	}
	if len(shown) == 0 {
		return
	}
	p.Heading("Your work under each answer, beside a bank card")
	height := 0.0
	for _, i := range shown {
		a := &q.Answers[i]
		height = math.Max(height, cellText+cellScale(a)*math.Max(a.HeightMM, ask.CardHeightMM)+18)
	}
	rows := (len(shown) + cellsInRow - 1) / cellsInRow
	p.Open(geometry.Box{Max: geometry.Pt(cellsInRow*cellWidth, float64(rows)*height)}, figure.Inset{Tight: true})
	lines = p.DetailOf(lines, len(shown)).Shown
	for k, i := range shown {
		corner := geometry.Pt(float64(k%cellsInRow)*cellWidth, float64(rows-1-k/cellsInRow)*height)
		a := &q.Answers[i]
		p.cell(corner, a, lines)
		at := p.View.Apply(corner.Add(geometry.Pt(cellWidth/2, 14)))
		p.Label(at, 19, fmt.Sprintf("%d. %s", i+1, sizeText(a.WidthMM, a.HeightMM)))
	}
	p.Foot += 24
	p.Legend("a bank card, "+sizeText(ask.CardWidthMM, ask.CardHeightMM), p.LineSwatch(cardStyle()))
}

// cell draws the work and the card side by side above a corner.
func (p *page) cell(corner geometry.Point, a *ask.Answer, lines []geometry.Path) {
	scale := cellScale(a)
	wide := (a.WidthMM+ask.CardWidthMM)*scale + cellGap
	left := corner.Add(geometry.Pt((cellWidth-wide)/2, cellText))
	work := geometry.Box{Min: left, Max: left.Add(geometry.Pt(a.WidthMM, a.HeightMM).Mul(scale))}
	card := left.Add(geometry.Pt(a.WidthMM*scale+cellGap, 0))
	p.Show(figure.Style{Stroke: figure.Faint, Width: 1}, work.Path())
	p.Show(figure.Style{Stroke: figure.Ink, Width: 1.6}, fitted(p, lines, work)...)
	p.Show(cardStyle(), geometry.Box{Min: card, Max: card.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM).Mul(scale))}.Path())
}

// cellScale is how many pixels a mm has in the cell of an answer.
func cellScale(a *ask.Answer) float64 {
	return math.Min((cellWidth-60-cellGap)/(a.WidthMM+ask.CardWidthMM), cellRoom/math.Max(a.HeightMM, ask.CardHeightMM))
}

// fitted returns lines laid into a box that has their proportions, and none into
// one that has others: it is then not these lines alone that the answer measures.
func fitted(p *page, lines []geometry.Path, into geometry.Box) []geometry.Path {
	box := boundsOf(p.b, lines)
	if box.Empty() || box.Width() == 0 || box.Height() == 0 {
		return nil
	}
	x, y := into.Width()/box.Width(), into.Height()/box.Height()
	if math.Abs(x/y-1) > 0.01 {
		return nil
	}
	move := geometry.Translate(-box.Min.X, -box.Min.Y).Then(geometry.Scale(x, y)).Then(geometry.Translate(into.Min.X, into.Min.Y))
	return appendImages(nil, lines, move)
}

func cardStyle() figure.Style {
	return figure.Style{Stroke: relief, Width: 2, Dash: []float64{9, 5}}
}
