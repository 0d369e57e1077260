package meaning

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// bandMM is the width from which one sees a band in a line that is not filled,
// and not an edge to cut along (common practice, no source).
const bandMM = 2

// bands settles wide lines without a fill. What one sees is a band; what is
// cut is its middle. In lettering the band is the work itself, so there it is
// a question; elsewhere the width is mostly left over from drawing.
func (k *desk) bands(lines []line) {
	cut := k.cutShapes()
	var wide []line
	most := 0.0
	for _, l := range lines {
		k.budget.Step()
		if l.shape.Stroke != nil && l.shape.Fill == nil && cut[l.number] && l.atLeast(bandMM) {
			wide, most = append(wide, l), max(most, l.widthMM)
		}
	}
	if len(wide) == 0 {
		return
	}
	f := finding.New(finding.WideLine, len(wide), finding.Values{"most_mm": finding.Num(most)}, places(k.budget, wide)...)
	if !k.req.Stock.Liner || k.req.Purpose != lettering {
		k.note(f)
		return
	}
	q := ask.Question{
		ID:   "wide_lines",
		Text: f.Fill("{count} {count:line is|lines are} drawn up to {most_mm} mm wide, but the knife runs once along the middle of a line. Is that what you want?"),
		Answers: []ask.Answer{
			{ID: "middle", Label: "Yes, cut along the middle", Evidence: "The width was only for the screen; what is cut is the line that was drawn."},
			{ID: "band", Label: "No, I want the band that I see", Evidence: "Then nothing is cut: its two edges have to be drawn as outlines first."},
		},
	}
	if k.ask(f, sized(k, q, runBox(k.budget, k.strokes))) == "band" {
		k.findings[len(k.findings)-1] = f.As(finding.Block)
	}
}

// cutShapes returns the shapes that are cut.
func (k *desk) cutShapes() map[int]bool {
	cut := map[int]bool{}
	for _, s := range k.strokes {
		k.budget.Step()
		cut[s.Shape] = s.Operation.Cuts()
	}
	return cut
}
