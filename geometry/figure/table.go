package figure

import "knifedesk/geometry"

// Table writes rows of cells, the first of them bold, in columns that have these
// shares of the page's width. A cell takes as many lines as it needs.
func (p *Page) Table(shares []float64, rows [][]string) {
	const gap = 12 // pixels between columns
	p.Zone = zoneNotes
	for i, row := range rows {
		x, below := p.format.Margin, p.Foot
		for k, cell := range row {
			width := shares[k] * p.format.Measure()
			y := p.Foot
			for _, line := range p.letters.wrapIn(shorten(cell), textSize, width-gap, i == 0) {
				p.add(figure{text: line, at: geometry.Pt(x, y), size: textSize, bold: i == 0, style: Style{Fill: Ink}})
				y += lineHeight
			}
			x, below = x+width, max(below, y)
		}
		p.Foot = below + 3
	}
}
