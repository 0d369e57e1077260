package picture

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// The cells in which answers about the size are compared, in pixels.
const (
	mostInRow = 2
	mostCells = 6
	cellWidth = 464.0
	cellText  = 42.0  // below the drawing in a cell, for its text
	cellRoom  = 200.0 // for the drawing in a cell, at most
	cellGap   = 26.0  // between the work and the card
)

// farLarger is how many cards wide a work may be to be drawn at the scale of the
// other answers: one far larger would make all of them specks.
const farLarger = 6

// besideCard draws, for each answer that says how large the finished work is,
// the work beside the outline of a bank card, all at one scale. The numbers are
// those of the answers. view maps the places of the question to where the lines lie.
func (p *page) besideCard(q *ask.Question, view geometry.Affine, lines, frames []geometry.Path) {
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
	scales := cellScales(q, shown)
	height := 0.0
	for k, i := range shown {
		height = math.Max(height, cellText+scales[k]*math.Max(q.Answers[i].HeightMM, ask.CardHeightMM)+18)
	}
	inRow := min(mostInRow, p.Columns(cellWidth))
	rows := (len(shown) + inRow - 1) / inRow
	p.Open(geometry.Box{Max: geometry.Pt(float64(inRow)*cellWidth, float64(rows)*height)}, figure.Inset{Tight: true})
	placed := *q
	placed.Places = finding.Moved(q.Places, view)
	around := p.DetailOf(frames, len(shown)).Shown
	for k, i := range shown {
		corner := geometry.Pt(float64(k%inRow)*cellWidth, float64(rows-1-k/inRow)*height)
		a := &q.Answers[i]
		meant := p.DetailOf(answered(p.b, &placed, a, lines, frames), len(shown)).Shown
		p.cell(corner, a, scales[k], meant, around)
		text := answerNumber(i) + sizeText(a.WidthMM, a.HeightMM)
		if isFarLarger(a) {
			text += ", drawn smaller"
		}
		p.Label(p.View.Apply(corner.Add(geometry.Pt(cellWidth/2, 14))), 19, text)
	}
	p.Foot += 24
	p.Legend("a bank card, "+sizeText(ask.CardWidthMM, ask.CardHeightMM), p.LineSwatch(cardStyle()))
}

// cell draws the work and the card side by side above a corner, scale pixels a mm.
func (p *page) cell(corner geometry.Point, a *ask.Answer, scale float64, lines, frames []geometry.Path) {
	wide := (a.WidthMM+ask.CardWidthMM)*scale + cellGap
	left := corner.Add(geometry.Pt((cellWidth-wide)/2, cellText))
	work := geometry.Box{Min: left, Max: left.Add(geometry.Pt(a.WidthMM, a.HeightMM).Mul(scale))}
	card := left.Add(geometry.Pt(a.WidthMM*scale+cellGap, 0))
	p.Show(figure.Style{Stroke: figure.Faint, Width: 1}, work.Path())
	inside := fitted(p, a, lines, work)
	if inside == nil {
		inside = fitted(p, a, append(append([]geometry.Path{}, lines...), frames...), work)
	}
	p.Show(figure.Style{Stroke: figure.Ink, Width: 1.6}, inside...)
	p.Show(cardStyle(), geometry.Box{Min: card, Max: card.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM).Mul(scale))}.Path())
}

// cellScales returns how many pixels a mm has in each of the cells: the same in
// all but those of far larger work.
func cellScales(q *ask.Question, shown []int) []float64 {
	scales := make([]float64, len(shown))
	common := math.Inf(1)
	for k, i := range shown {
		a := &q.Answers[i]
		scales[k] = math.Min((cellWidth-60-cellGap)/(a.WidthMM+ask.CardWidthMM), cellRoom/math.Max(a.HeightMM, ask.CardHeightMM))
		if !isFarLarger(a) {
			common = math.Min(common, scales[k])
		}
	}
	for k, i := range shown {
		if !isFarLarger(&q.Answers[i]) {
			scales[k] = common
		}
	}
	return scales
}

func isFarLarger(a *ask.Answer) bool {
	return math.Max(a.WidthMM, a.HeightMM) > farLarger*ask.CardWidthMM
}

// fitted returns lines laid into a box that has their proportions, once they are
// stretched as the answer says, and none into one that has others: it is then not
// these lines alone that the answer measures.
func fitted(p *page, a *ask.Answer, lines []geometry.Path, into geometry.Box) []geometry.Path {
	box := boundsOf(p.b, lines)
	if box.Empty() || box.Width() == 0 || box.Height() == 0 {
		return nil
	}
	stretch := 1.0
	if fx, fy := a.Values.Num("factor_x"), a.Values.Num("factor_y"); fx > 0 && fy > 0 {
		stretch = fx / fy
	}
	x, y := into.Width()/box.Width(), into.Height()/box.Height()
	if math.Abs(x/y/stretch-1) > 0.01 && math.Abs(x/y*stretch-1) > 0.01 {
		return nil
	}
	move := geometry.Translate(-box.Min.X, -box.Min.Y).Then(geometry.Scale(x, y)).Then(geometry.Translate(into.Min.X, into.Min.Y))
	return appendImages(nil, lines, move)
}

func cardStyle() figure.Style {
	return figure.Style{Stroke: figure.Quiet, Width: 1.4, Dash: []float64{1.5, 3}}
}
