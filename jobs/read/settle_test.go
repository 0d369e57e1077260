package read_test

import (
	"math"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
)

// drawn reads a file that must be readable.
func drawn(t *testing.T, file []byte, req read.Request) *read.Result {
	t.Helper()
	r, err := read.Drawing(t.Context(), file, req)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// width is the width in mm by the unit of the file.
func width(r *read.Result) float64 { return r.Bounds().Width() * r.Unit.MM }

// A plate of which a clip shows the left half: the job asks what to cut, and
// each answer gives its own size, or sends the drawing back.
func TestClippedDrawingAsks(t *testing.T) {
	file := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
		<clipPath id="half"><rect x="0" y="0" width="50" height="60"/></clipPath>
		<g id="CUT" fill="none" stroke="#007c91" clip-path="url(#half)"><path d="M10 10H90V50H10Z"/></g></svg>`)
	qs := drawn(t, file, read.Request{}).Questions
	if len(qs) != 1 || qs[0].ID != "read/clip_path_used" {
		t.Fatalf("questions %+v", qs)
	}
	for answer, want := range map[string]float64{"visible": 40, "go_on": 80} {
		r := drawn(t, file, read.Request{Replies: ask.Replies{qs[0].ID: {Answer: answer}}})
		if len(r.Questions) > 0 || math.Abs(width(r)-want) > 1e-6 {
			t.Errorf("%s: %.4f mm wide, want %g, questions %v", answer, width(r), want, r.Questions)
		}
	}
	r := drawn(t, file, read.Request{Replies: ask.Replies{qs[0].ID: {Answer: "refuse"}}})
	if finding.Worst(r.Findings) != finding.Block {
		t.Errorf("refused, and still goes on: %v", r.Findings)
	}
}

// Whoever sends a drawing back is told what to do to it: each answer that does
// names the thing, and they differ.
func TestWhatToDoIsSaid(t *testing.T) {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60" stroke="#007c91" fill="none">`
	for name, c := range map[string]struct{ file, id, want string }{
		"clip":   {head + `<clipPath id="c"><rect width="9" height="9"/></clipPath><path clip-path="url(#c)" d="M0 0h20v20z"/></svg>`, "read/clip_path_used", "Neither: I trim the clipped shape to what is to be cut, and send the drawing again"},
		"mask":   {head + `<mask id="c"><rect width="9" height="9"/></mask><path mask="url(#c)" d="M0 0h20v20z"/></svg>`, "read/mask_used", "It is not: I remove the mask, and send the drawing again"},
		"broken": {head + `<path d="M0 0h20v20z"/><path d="M0 0h20v20x"/><path d="M0 9h20v20x"/></svg>`, "read/path_data_broken", "It is not: I draw the damaged outlines anew, and send the drawing again"},
	} {
		qs := drawn(t, []byte(c.file), read.Request{}).Questions
		if len(qs) != 1 || qs[0].ID != c.id || qs[0].Answers[len(qs[0].Answers)-1].Label != c.want {
			t.Errorf("%s: asks %+v", name, qs)
		}
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
	open := drawn(t, file, read.Request{})
	qs := open.Questions
	if len(qs) != 1 || qs[0].ID != "read/page" || len(qs[0].Answers) != 2 {
		t.Fatalf("questions %+v, findings %+v", qs, open.Findings)
	}
	for name, req := range map[string]read.Request{
		"answered": {Replies: ask.Replies{"read/page": {Answer: "page-2"}}},
		"given":    {Page: 2},
	} {
		r := drawn(t, file, req)
		if len(r.Questions) > 0 || math.Abs(width(r)-50.8) > 1e-6 {
			t.Errorf("%s: %.4f mm wide, want 50.8, questions %v", name, width(r), r.Questions)
		}
	}
}

// A cover page of text does not get the file refused before anybody could say
// that another page is meant; once the page is known, what is on it counts.
func TestCoverPageAsks(t *testing.T) {
	const text = "BT /H 9 Tf (Cover) Tj ET"
	file := []byte("%PDF-1.4\n" +
		"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n" +
		"2 0 obj<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2/MediaBox[0 0 200 200]>>endobj\n" +
		"3 0 obj<</Type/Page/Parent 2 0 R/Contents 5 0 R/Resources<</Font<</H<</Type/Font/Subtype/Type1/BaseFont/Plain>>>>>>>>endobj\n" +
		"4 0 obj<</Type/Page/Parent 2 0 R/Contents 6 0 R>>endobj\n" +
		"5 0 obj<</Length 24>>stream\n" + text + "\nendstream endobj\n" +
		"6 0 obj<</Length 17>>stream\n0 0 144 72 re S  \nendstream endobj\n" +
		"trailer<</Root 1 0 R>>\nstartxref\n0\n%%EOF")
	open := drawn(t, file, read.Request{})
	if len(open.Questions) != 1 || open.Questions[0].ID != "read/page" || finding.Worst(open.Findings) != finding.Ask {
		t.Errorf("questions %+v, findings %+v", open.Questions, open.Findings)
	}
	if r := drawn(t, file, read.Request{Page: 2}); len(r.Findings) > 0 || math.Abs(width(r)-50.8) > 1e-6 {
		t.Errorf("page 2: %.4f mm wide, %+v", width(r), r.Findings)
	}
	if r := drawn(t, file, read.Request{Page: 1}); finding.Worst(r.Findings) != finding.Block {
		t.Errorf("page 1: %+v", r.Findings)
	}
}
