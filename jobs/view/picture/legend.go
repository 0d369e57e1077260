package picture

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// lineLegend lists the kinds of lines among the strokes, each once, in the
// order of their passes, added lines last. Text adds to the name, nil: nothing.
func (p *page) lineLegend(strokes []artwork.Stroke, text func(artwork.Operation) string) {
	p.kindLegend(strokes, text, func(s figure.Style) figure.Style { return s })
}

// paleLegend lists the kinds of lines as they are drawn small.
func (p *page) paleLegend(m *weeding.Map) { p.kindLegend(m.Strokes, nil, pale) }

func (p *page) kindLegend(strokes []artwork.Stroke, text func(artwork.Operation) string, as func(figure.Style) figure.Style) {
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
			p.Legend(operationName(op)+more, p.LineSwatch(as(strokeStyle(op))))
		}
	}
	for _, a := range []artwork.Added{artwork.Border, artwork.Relief, artwork.Seam} {
		if s := added[a]; s != nil {
			p.Legend(lineName(s), p.LineSwatch(as(lineStyle(s))))
		}
	}
}

// asked writes the questions that are open, with their answers, and has each drawn
// by show, where there is one. It comes first: it is what a person has to do.
func (p *page) asked(questions []ask.Question, show func(*ask.Question)) {
	if len(questions) == 0 {
		return
	}
	p.Heading("In question")
	for _, q := range ask.All(questions) {
		p.open[q.Code] = true
	}
	for i := range questions {
		q := &questions[i]
		p.inColour(0, q.Text, q.Colour)
		for i, a := range q.Answers {
			p.Paragraph(20, answerNumber(i)+answerText(&a))
		}
		for i, part := range q.Parts {
			p.inColour(20, fmt.Sprintf("%s: %s", letter(i), part.Text), part.Colour)
		}
		if show != nil {
			show(q)
		}
	}
}

// inColour writes a text about lines of a colour beside a sample of it; "": of none.
func (p *page) inColour(indent float64, text, colour string) {
	if colour == "" {
		p.Paragraph(indent, text)
		return
	}
	p.Legend(text, func(b geometry.Box) {
		p.Draw(figure.Style{Fill: colour, Stroke: figure.Ink, Width: 1}, b.Path())
	})
}

// answerNumber is how an answer is counted.
func answerNumber(i int) string { return fmt.Sprintf("%d. ", i+1) }

// answerText is an answer as its picture tells it: with what it does and what speaks
// for it, and with the finished size.
func answerText(a *ask.Answer) string {
	switch {
	case a.TellsSize():
		return a.Label
	case a.WidthMM > 0 && a.HeightMM > 0 && a.Evidence != "":
		return a.Label + ": " + a.Evidence + " Your work is then " + sizeText(a.WidthMM, a.HeightMM) + "."
	case a.WidthMM > 0 && a.HeightMM > 0:
		return a.Label + ". Your work is then " + sizeText(a.WidthMM, a.HeightMM) + "."
	case a.Evidence != "":
		return a.Label + ": " + a.Evidence
	}
	return a.Label
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
			p.Paragraph(figure.LegendIndent, fmt.Sprintf("and %d more", len(fs)-i))
			return
		}
		text := severityText(f.Severity) + ": " + f.Hint
		if f.Code != "" && p.open[f.Code] { // it is no time yet to change the drawing
			text = severityText(finding.Ask) + ": please answer it, above"
		}
		if n := len(f.Places); n > most {
			text += fmt.Sprintf(" (%s of %d marked)", count(most, "place", "places"), max(n, f.Count))
		}
		p.Legend(text, func(b geometry.Box) { p.tag(b.Centre(), 9, 12.5, name(i)) })
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
