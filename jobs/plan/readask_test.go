package plan_test

import (
	"math"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// A plate of which a clip shows the left half: the plan asks what to cut, and
// each answer gives its own size, or sends the drawing back.
func TestClippedDrawingAsks(t *testing.T) {
	file := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
		<clipPath id="half"><rect x="0" y="0" width="50" height="60"/></clipPath>
		<g id="CUT" fill="none" stroke="#007c91" clip-path="url(#half)"><path d="M10 10H90V50H10Z"/></g></svg>`)
	c := plan.Choices{Stock: "card-160-a4"}
	_, _, qs := chain(t, file, plan.StageSize, c)
	if len(qs) != 1 || qs[0].ID != "read:clip_path_used" {
		t.Fatalf("questions %+v", qs)
	}
	for answer, width := range map[string]float64{"visible": 40, "go_on": 80} {
		c.Replies = ask.Replies{qs[0].ID: {Answer: answer}}
		results, _, again := chain(t, file, plan.StageSize, c)
		s := decode[size.Result](t, results, plan.StageSize)
		if len(again) > 0 || math.Abs(s.WidthMM-width) > 1e-6 {
			t.Errorf("%s: %.4f mm wide, want %g, questions %v", answer, s.WidthMM, width, again)
		}
	}
	c.Replies = ask.Replies{qs[0].ID: {Answer: "refuse"}}
	if _, fs, _ := chain(t, file, plan.StageSize, c); finding.Worst(fs) != finding.Block {
		t.Errorf("refused, and still goes on: %v", fs)
	}
}

// The page of a PDF file is asked for where there are several, and may be
// given beforehand.
func TestSeveralPagesAsk(t *testing.T) {
	file := []byte("%PDF-1.4\n" +
		"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n" +
		"2 0 obj<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2>>endobj\n" +
		"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 400 400]/Contents 5 0 R>>endobj\n" +
		"4 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 400 400]/Contents 6 0 R>>endobj\n" +
		"5 0 obj<</Length 25>>stream\n0 0.49 0.57 RG 72 72 72 72 re S\nendstream endobj\n" +
		"6 0 obj<</Length 26>>stream\n0 0.49 0.57 RG 72 72 144 72 re S\nendstream endobj\n" +
		"trailer<</Root 1 0 R>>\n%%EOF\n")
	c := plan.Choices{Stock: "card-160-a4"}
	_, fs, qs := chain(t, file, plan.StageSize, c)
	if len(qs) != 1 || qs[0].ID != "read:page" || len(qs[0].Answers) != 2 {
		t.Fatalf("questions %+v, findings %+v", qs, fs)
	}
	answered := c
	answered.Replies = ask.Replies{"read/page": {Answer: "page-2"}}
	given := c
	given.Options.Page = 2
	for name, c := range map[string]plan.Choices{"answered": answered, "given": given} {
		results, _, qs := chain(t, file, plan.StageSize, c)
		s := decode[size.Result](t, results, plan.StageSize)
		if len(qs) > 0 || math.Abs(s.WidthMM-50.8) > 1e-6 {
			t.Errorf("%s: %.4f mm wide, want 50.8, questions %v", name, s.WidthMM, qs)
		}
	}
}
