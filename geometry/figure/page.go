package figure

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/number"
)

// Sizes of the page in pixels.
const (
	minDrawing = 90.0
	lineHeight = 21.0
	titleSize  = 25.0
	textSize   = 14.5
	// Room beside and below a drawing for its dimensions.
	sideRoom = 92.0
	footRoom = 40.0
)

// Page is a picture being made: a heading, one or more panels in true
// proportion, and what is written below them.
type Page struct {
	Pen
	Panel           // the one opened last
	Foot    float64 // the baseline of the next line, in pixels
	format  Format
	title   string
	letters *lettering
}

// New starts a page with its title and, in smaller letters, its subtitle. What
// is drawn on it takes steps from b and stops with it.
func New(b *budget.Budget, format Format, title, subtitle string) *Page {
	p := Plate(b, format)
	p.title, p.Foot = title+". "+subtitle, 42
	for i, line := range p.letters.wrapIn(title, titleSize, p.format.Measure(), true) {
		p.Foot += 30 * float64(min(i, 1))
		p.writeBold(geometry.Pt(format.Margin, p.Foot), titleSize, left, Ink, line)
	}
	p.Foot += 26
	for _, line := range p.letters.wrap(shorten(subtitle), 15, p.format.Measure()) {
		p.write(geometry.Pt(format.Margin, p.Foot), 15, left, Quiet, line)
		p.Foot += lineHeight
	}
	return p
}

// Plate starts a page without a heading, as a part of another.
func Plate(b *budget.Budget, format Format) *Page {
	p := &Page{letters: newLettering(b), format: format}
	p.b, p.Zone = b, zoneHead
	return p
}

// Columns returns how many columns so wide, in pixels, the page has room for, at least
// one.
func (p *Page) Columns(width float64) int { return max(1, int(p.format.Measure()/width)) }

// Finish returns the picture, as high as all that is written.
func (p *Page) Finish() *Picture {
	return &Picture{Width: p.format.Width, Height: math.Ceil(p.Foot + 8), Title: p.title, figures: p.figures}
}

// Part writes the heading of a part of the page.
func (p *Page) Part(text string) {
	p.Foot += 16
	p.Zone = zoneHead
	p.writeBold(geometry.Pt(p.format.Margin, p.Foot), 19, left, Ink, text)
	p.Foot += lineHeight
}

// Caption writes the line above a panel that is opened next.
func (p *Page) Caption(text string) {
	p.Zone = zoneNotes
	p.Foot += 20
	p.lines(0, text)
	p.Foot -= lineHeight // the panel is close below
}

// Heading writes the bold line above notes.
func (p *Page) Heading(text string) {
	p.Zone = zoneNotes
	p.Foot += 8
	for _, line := range p.letters.wrapIn(text, textSize, p.format.Measure(), true) {
		p.writeBold(geometry.Pt(p.format.Margin, p.Foot), textSize, left, Ink, line)
		p.Foot += lineHeight
	}
}

// Paragraph writes a note, so many pixels to the right of the margin.
func (p *Page) Paragraph(indent float64, text string) {
	if text == "" {
		return
	}
	p.Zone = zoneNotes
	p.lines(indent, text)
}

// ParagraphAt writes a note that begins so many pixels from the left of the page.
func (p *Page) ParagraphAt(x float64, text string) { p.Paragraph(x-p.format.Margin, text) }

// Legend writes one entry: a sample drawn by swatch in a box of 46 × 16 pixels,
// and a text.
func (p *Page) Legend(text string, swatch func(b geometry.Box)) {
	p.Zone = zoneLegend
	swatch(geometry.Box{Min: geometry.Pt(p.format.Margin, p.Foot-12), Max: geometry.Pt(p.format.Margin+46, p.Foot+4)})
	p.lines(LegendIndent, text)
}

// LegendIndent is how far right of the margin, in pixels, the texts of a legend
// start.
const LegendIndent = 60

// lines writes text from the indent to the right margin, in as many lines as
// it takes, and moves the foot below it.
func (p *Page) lines(indent float64, text string) {
	x := p.format.Margin + indent
	for _, line := range p.letters.wrap(shorten(text), textSize, p.format.Width-p.format.Margin-x) {
		p.write(geometry.Pt(x, p.Foot), textSize, left, Ink, line)
		p.Foot += lineHeight
	}
}

// TextWidth returns how long a line of text is at most, in pixels, in the faces that the
// PNG is written in and in those that screens show for the SVG.
func (p *Page) TextWidth(text string, size float64, bold bool) float64 {
	return p.letters.width(text, size, bold) / used(bold)
}

// Number writes a number as number.People does, and ? for what is none.
func Number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	return number.People(v)
}
