package picture

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
)

// leastCard is how wide a bank card has to be to compare anything with, in pixels.
const leastCard = 44.0

// How wide a card is beside a part of the work, as a share of the page and in pixels at
// most, how far off it lies, and how high the part is at most.
const (
	closeCard     = 0.36
	closeCardMost = 220.0
	closeGap      = 26.0
	closeHigh     = 300.0
)

// closeUp is a part of the work that is shown larger, beside a bank card.
type closeUp struct {
	scale float64      // pixels for one mm
	part  geometry.Box // mm
}

// closeUpOf chooses the part of work as large as has room beside a card, where the most is
// drawn.
func closeUpOf(b *budget.Budget, lines []geometry.Path, art geometry.Box) closeUp {
	wide := figure.FormatOf(b).Measure()
	cardWide := math.Min(closeCardMost, closeCard*wide)
	c := closeUp{scale: cardWide / ask.CardWidthMM}
	w := math.Min(art.Width(), (wide-cardWide-closeGap)/c.scale)
	h := math.Min(art.Height(), math.Min(closeHigh, 0.75*wide)/c.scale)
	corner := densest(b, lines, art, geometry.Pt(w, h))
	c.part = geometry.BoxAround(corner, corner.Add(geometry.Pt(w, h)))
	return c
}

// densest returns the lower left corner of the part of a size in which the most vertices of
// lines lie; of several such parts that farthest to the left.
func densest(b *budget.Budget, lines []geometry.Path, art geometry.Box, size geometry.Point) geometry.Point {
	const most = 100 // cells along one side; a part is two cells wide and high
	step := geometry.Pt(math.Max(size.X/2, art.Width()/most), math.Max(size.Y/2, art.Height()/most))
	cell := func(v, from, step float64) int { return int(math.Floor((v - from) / math.Max(step, 1e-9))) }
	held := map[[2]int]int{}
	for _, q := range lines {
		b.Spend(1 + len(q.Segments))
		for _, s := range q.Segments {
			held[[2]int{cell(s.End.X, art.Min.X, step.X), cell(s.End.Y, art.Min.Y, step.Y)}]++
		}
	}
	best, at := -1, art.Min
	for i := 0; i <= cell(art.Max.X, art.Min.X, step.X); i++ {
		for j := 0; j <= cell(art.Max.Y, art.Min.Y, step.Y); j++ {
			b.Step()
			if n := held[[2]int{i, j}] + held[[2]int{i + 1, j}] + held[[2]int{i, j + 1}] + held[[2]int{i + 1, j + 1}]; n > best {
				best, at = n, art.Min.Add(geometry.Pt(float64(i)*step.X, float64(j)*step.Y))
			}
		}
	}
	return geometry.Pt(math.Min(at.X, art.Max.X-size.X), math.Min(at.Y, art.Max.Y-size.Y))
}

// outline shows in the whole work which part is shown larger.
func (c closeUp) outline(p *page) {
	p.Zone = figure.ZoneMarks
	b := p.OnPage(c.part).Grow(3)
	p.Draw(figure.Style{Stroke: figure.Paper, Width: 4}, b.Path())
	p.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, b.Path())
}

// draw shows the part beside the card, both at one scale.
func (c closeUp) draw(p *page, lines []geometry.Path) {
	p.Caption("What the box holds, larger, beside a bank card:")
	p.Foot += 10
	corner := geometry.Pt(c.part.Max.X+closeGap/c.scale, c.part.Min.Y)
	card := geometry.BoxAround(corner, corner.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM)))
	p.Open(c.part.Union(card), figure.Inset{Tight: true})
	part := p.OnPage(c.part)
	p.Within(part, func() { p.ShowWork(figure.Style{Stroke: figure.Ink, Width: 1.5}, lines...) })
	p.Show(cardStyle(), card.Path())
	p.Zone = figure.ZoneMarks
	p.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, part.Path())
	p.ScaleBar()
}
