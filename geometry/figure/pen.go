package figure

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Pen collects figures in pixels.
type Pen struct {
	Zone    Zone // of the figures drawn next
	b       *budget.Budget
	figures []figure
	clip    *geometry.Box // of the figures drawn next, nil: none
}

func (p *Pen) add(f figure) {
	f.zone, f.clip = p.Zone, p.clip
	p.figures = append(p.figures, f)
}

// Draw inks paths together: where they overlap they are inked once, and they
// are filled by the even-odd rule.
func (p *Pen) Draw(s Style, paths ...geometry.Path) {
	if len(paths) > 0 {
		p.add(figure{paths: paths, style: s})
	}
}

// Line draws a straight line.
func (p *Pen) Line(s Style, a, b geometry.Point) { p.Draw(s, geometry.Polyline(a, b)) }

// Cased draws lines over a broader one in the colour of the paper, so that
// they stand off from hatches.
func (p *Pen) Cased(s Style, paths ...geometry.Path) {
	p.Draw(Style{Stroke: Paper, Width: s.Width + 3}, paths...)
	p.Draw(s, paths...)
}

// Fill fills rings by the even-odd rule with the pattern.
func (p *Pen) Fill(t Pattern, rings []geometry.Path) {
	if t.Tint != "" {
		p.Draw(Style{Fill: t.Tint}, rings...)
	}
	if t.Gap > 0 {
		p.Draw(t.Line, t.hatch(p.b, rings)...)
	}
}

// write writes a line of text whose baseline passes through a point.
func (p *Pen) write(at geometry.Point, size float64, a align, ink, text string) {
	p.add(figure{text: text, at: at, size: size, align: a, style: Style{Fill: ink}})
}

// writeBold writes a bold line of text, size pixels high, whose baseline passes
// through a point.
func (p *Pen) writeBold(at geometry.Point, size float64, a align, ink, text string) {
	p.add(figure{text: text, at: at, size: size, align: a, bold: true, style: Style{Fill: ink}})
}

// Label writes a bold text, size pixels high, with a point in the middle of its
// baseline.
func (p *Pen) Label(at geometry.Point, size float64, text string) {
	p.writeBold(at, size, middle, Ink, text)
}

// Left writes a text of the usual size that begins at a point of its baseline.
func (p *Pen) Left(at geometry.Point, text string) { p.write(at, textSize, left, Ink, text) }

// Within draws what lies in a box (pixels) and hides the rest.
func (p *Pen) Within(box geometry.Box, drawn func()) {
	p.clip = &box
	drawn()
	p.clip = nil
}

// Hides reports whether a box (pixels) lies outside of what is shown.
func (p *Pen) Hides(b geometry.Box) bool { return p.clip != nil && !p.clip.Overlaps(b) }

// LineSwatch returns what draws a line of the style as a sample for a legend.
func (p *Pen) LineSwatch(s Style) func(geometry.Box) {
	return func(b geometry.Box) {
		c := b.Centre()
		p.Line(s, geometry.Pt(b.Min.X, c.Y), geometry.Pt(b.Max.X, c.Y))
	}
}

// BoxSwatch returns what draws a box of the style as a sample for a legend.
func (p *Pen) BoxSwatch(s Style) func(geometry.Box) {
	return func(b geometry.Box) { p.Draw(s, b.Path()) }
}
