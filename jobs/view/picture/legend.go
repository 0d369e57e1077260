package picture

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// legend writes one entry: a sample drawn by swatch in a 46 × 16 box, a text.
func (p *page) legend(text string, swatch func(b geometry.Box)) {
	p.zone = zoneLegend
	swatch(geometry.Box{Min: geometry.Pt(pageMargin, p.foot-12), Max: geometry.Pt(pageMargin+46, p.foot+4)})
	p.lines(pageMargin+60, text)
}

// paragraph writes a note from x to the right margin.
func (p *page) paragraph(x float64, text string) {
	if text == "" {
		return
	}
	p.zone = zoneNotes
	p.lines(x, text)
}

// heading writes the bold line above notes.
func (p *page) heading(text string) {
	p.zone = zoneNotes
	p.foot += 8
	p.writeBold(geometry.Pt(pageMargin, p.foot), textSize, left, ink, text)
	p.foot += lineHeight
}

// lines writes text from x to the right margin, in as many lines as it takes,
// and moves the foot below it.
func (p *page) lines(x float64, text string) {
	for _, line := range p.letters.wrap(shorten(text), textSize, pageWidth-pageMargin-x) {
		p.write(geometry.Pt(x, p.foot), textSize, left, ink, line)
		p.foot += lineHeight
	}
}

func (p *page) lineSwatch(s style) func(geometry.Box) {
	return func(b geometry.Box) {
		c := b.Centre()
		p.line(s, geometry.Pt(b.Min.X, c.Y), geometry.Pt(b.Max.X, c.Y))
	}
}

func (p *page) boxSwatch(s style) func(geometry.Box) {
	return func(b geometry.Box) { p.draw(s, b.Path()) }
}

// lineLegend lists the kinds of lines among the strokes, each once, in the
// order of their passes, added lines last. Text adds to the name, nil: nothing.
func (p *page) lineLegend(strokes []artwork.Stroke, text func(artwork.Operation) string) {
	p.kindLegend(strokes, text, func(s style) style { return s })
}

// paleLegend lists the kinds of lines as they are drawn small.
func (p *page) paleLegend(m *weeding.Map) { p.kindLegend(m.Strokes, nil, style.pale) }

func (p *page) kindLegend(strokes []artwork.Stroke, text func(artwork.Operation) string, as func(style) style) {
	drawn := map[artwork.Operation]bool{}
	added := map[artwork.Added]*artwork.Stroke{}
	for i := range strokes {
		switch s := &strokes[i]; s.Added {
		case artwork.Relief, artwork.Seam, artwork.Border:
			added[s.Added] = s
		default:
			drawn[s.Operation] = true
		}
	}
	for _, op := range artwork.Operations() {
		if drawn[op] {
			more := ""
			if text != nil {
				more = text(op)
			}
			p.legend(operationName(op)+more, p.lineSwatch(as(strokeStyle(op))))
		}
	}
	for _, a := range []artwork.Added{artwork.Border, artwork.Relief, artwork.Seam} {
		if s := added[a]; s != nil {
			p.legend(lineName(s), p.lineSwatch(as(lineStyle(s))))
		}
	}
}

// asked writes the questions that are open, with their answers.
func (p *page) asked(questions []ask.Question) {
	if len(questions) == 0 {
		return
	}
	p.heading("In question")
	for _, q := range questions {
		p.paragraph(pageMargin, q.Text)
		for i, a := range q.Answers {
			text := fmt.Sprintf("%d. %s", i+1, a.Label)
			if a.Evidence != "" {
				text += ": " + a.Evidence
			}
			p.paragraph(pageMargin+20, text)
		}
	}
}

// mostFindings bounds the findings that a page lists.
const mostFindings = 40

// tagNames names findings by their number in the plan, or by their place among fs
// while they have none.
func tagNames(fs []finding.Finding) func(i int) string {
	return func(i int) string {
		if n := fs[i].Number; n > 0 {
			return fmt.Sprint(n)
		}
		return fmt.Sprint(i + 1)
	}
}

// findingLegend writes what the marks mean, each with the name it is marked by.
func (p *page) findingLegend(fs []finding.Finding, name func(i int) string, most int) {
	for i, f := range fs {
		if i == mostFindings {
			p.paragraph(pageMargin+60, fmt.Sprintf("and %d more", len(fs)-i))
			return
		}
		text := severityText(f.Severity) + ": " + f.Hint
		if n := len(f.Places); n > most {
			text += fmt.Sprintf(" (%s of %d marked)", count(most, "place", "places"), max(n, f.Count))
		}
		p.legend(text, func(b geometry.Box) { p.tag(b.Centre(), 9, 12.5, name(i)) })
	}
}

func severityText(s finding.Severity) string {
	switch s {
	case finding.Block:
		return "stop"
	case finding.Ask:
		return "question"
	case finding.Warn:
		return "look"
	case finding.Mended:
		return "mended"
	}
	return string(s)
}
