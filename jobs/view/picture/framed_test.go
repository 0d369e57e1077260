package picture_test

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// framed is a drawing of two layers with a fill, in a frame of A6 in inches,
// and its size as it was found.
func framed() (*read.Result, *size.Result) {
	red, blue := drawing.RGB(200, 0, 0), drawing.RGB(0, 40, 200)
	box := func(x, y, w, h float64) geometry.Path { return rect(x/25.4, y/25.4, w/25.4, h/25.4) }
	d := &read.Result{Drawing: drawing.Drawing{Format: "dxf", Unit: drawing.Unit{Name: "in"}, Shapes: []drawing.Shape{
		{Paths: []geometry.Path{box(0, 0, 148, 105)}, Stroke: blue}, {Paths: []geometry.Path{box(20, 20, 60, 40), box(30, 30, 10, 10)}, Stroke: red, Fill: red},
		{Paths: []geometry.Path{box(100, 50, 30, 30)}, Stroke: red, Dashed: true}, {Paths: []geometry.Path{box(100, 20, 30, 10)}, Fill: blue},
	}}}
	d.Findings = []finding.Finding{{Code: "x", Severity: finding.Warn, Count: 1, Number: 1, Hint: "This is open.", Places: []finding.Place{{Box: box(20, 20, 60, 40).Bounds()}}}}
	s := &size.Result{
		Transform: geometry.Scale(25.4, 25.4), X: 25.4, Y: 25.4, Cause: "none", Why: "The frame is A6 in inches.", WidthMM: 110, HeightMM: 60,
		Frame: &size.Frame{Name: "A6"}, FrameParts: []size.Part{{Shape: 0, Path: 0}},
		Hypotheses: []size.Hypothesis{{Frame: "A6", Factor: 25.4, Cause: "none", FitsStock: true, Plausible: true, Evidence: "It leaves 0.00 mm."}, {Frame: "A5", Factor: 36, Cause: "unnamed", Evidence: "No cause is known."}},
		Findings:   []finding.Finding{{Code: "y", Severity: finding.Mended, Count: 1, Number: 2, Hint: "Inches were taken for the unit."}},
	}
	return d, s
}

// manyAnswers asks for the size of framed with more answers than are drawn; one
// measures other lines than these.
func manyAnswers() (*read.Result, *size.Result) {
	d, s := framed()
	q := ask.Question{ID: "size/true_size", Text: "How large is it?", Answers: []ask.Answer{{ID: "other", Label: "other lines", WidthMM: 50, HeightMM: 50}}}
	for i := range 8 {
		k := 0.5 + 0.25*float64(i)
		q.Answers = append(q.Answers, ask.Answer{ID: fmt.Sprint(i), Label: fmt.Sprint("answer ", i), WidthMM: 110 * k, HeightMM: 60 * k})
	}
	s.Questions = []ask.Question{q}
	return d, s
}

// waiting is artwork of which all lines, or all but one, wait for an answer.
func waiting(lines int) *artwork.Artwork {
	a := &artwork.Artwork{Origin: geometry.Pt(20, 20), Questions: []ask.Question{{ID: "artwork/operation", Text: "What are these?", Answers: []ask.Answer{{ID: "cut", Label: "cut"}}}}}
	if lines > 0 {
		a.Strokes = []artwork.Stroke{{Path: rect(0, 0, 60, 40), Operation: artwork.ThroughCut}}
		a.Bounds = a.Strokes[0].Path.Bounds()
	}
	return a
}
