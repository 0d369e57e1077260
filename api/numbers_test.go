package api_test

import (
	"fmt"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"knifedesk/api"
)

// faulty is a plate with faults of several jobs: a clip and a dashed line, no
// frame, an outline drawn twice, and a part too thin for film.
const faulty = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<clipPath id="c"><rect width="30" height="60"/></clipPath>
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/><rect x="10" y="10" width="80" height="40"/>
<rect x="20" y="20" width="20" height="20" clip-path="url(#c)"/><rect x="50" y="25" width="10" height="10" stroke-dasharray="2 1"/>
<rect x="70" y="20" width="0.3" height="20"/></g></svg>`

// legendTag is a mark in the legend of a picture and the text beside it.
var legendTag = regexp.MustCompile(`font-size="12.5"[^>]*>!?(\d+)</text>\s*<text[^>]*>[a-z]+: ([^<]*)</text>`)

// numbered holds each mark of a picture against the finding of its number, and
// returns how many there are.
func numbered(t *testing.T, svg []byte, findings []api.Finding) int {
	t.Helper()
	tags := legendTag.FindAllStringSubmatch(string(svg), -1)
	for _, tag := range tags {
		var n int
		fmt.Sscan(tag[1], &n)
		text := html.UnescapeString(tag[2])
		if n >= 1 && n <= len(findings) && findings[n-1].Severity == "ask" && text == "please answer it, above" {
			continue // the question itself stands there
		}
		if n < 1 || n > len(findings) || !strings.HasPrefix(findings[n-1].Hint, text) {
			t.Errorf("a picture marks by %s what says %q", tag[1], text)
		}
	}
	return len(tags)
}

// A finding has one number in the JSON, in the summary and in the pictures.
func TestFindingsHaveOneNumber(t *testing.T) {
	d := open(t)
	var drawn api.Drawing
	d.call(t, http.MethodPost, "/v1/drawings", []byte(faulty)).json(t, &drawn)
	preview := d.call(t, http.MethodGet, drawn.Links["preview"], nil)
	if n := numbered(t, preview.body, drawn.Findings); n != len(drawn.Findings) || n < 2 {
		t.Errorf("the picture marks %d of %d findings", n, len(drawn.Findings))
	}
	p := d.submit(t, "faulty.svg", []byte(faulty), "stock", "film-removable-610", "answer", "read/clip_path_used=visible")
	text := string(d.call(t, http.MethodGet, p.Links["self"], nil, "Accept", "text/plain").body)
	for i, f := range p.Findings {
		if f.Number != i+1 || !strings.Contains(text, fmt.Sprintf("%d. %s\n", i+1, f.Hint)) {
			t.Errorf("finding %d has the number %d, and in the summary:\n%s", i+1, f.Number, text)
		}
	}
	for i, f := range drawn.Findings {
		if f.Number != i+1 || p.Findings[i].Code != f.Code {
			t.Errorf("%s has the number %d in the drawing, and the plan has %s there", f.Code, f.Number, p.Findings[i].Code)
		}
	}
	for _, stage := range []string{"artwork_preview", "weeding_preview"} {
		picture := d.call(t, http.MethodGet, p.Links[stage], nil)
		if n := numbered(t, picture.body, p.Findings); n == 0 {
			t.Errorf("%s marks nothing; the plan is %s:\n%s", stage, p.Status, text)
		}
	}
}

// A drawing shows what a person needs to tell its size and to mend it.
func TestDrawingShowsItsEvidence(t *testing.T) {
	d := open(t)
	var drawn api.Drawing
	d.call(t, http.MethodPost, "/v1/drawings", []byte(strings.ReplaceAll(faulty, `width="100mm" height="60mm"`, `width="200mm" height="120mm"`))).json(t, &drawn)
	// By CSS a millimetre is 96/25.4 px; the view box is drawn at twice its numbers.
	const px = 96 / 25.4
	if drawn.Page == nil || !near(drawn.Page.Max.X-drawn.Page.Min.X, 200*px) || !near(drawn.Page.Max.Y-drawn.Page.Min.Y, 120*px) {
		t.Errorf("page %v", drawn.Page)
	}
	if len(drawn.StatedMM) != 2 || !near(drawn.StatedMM[0], 160) || !near(drawn.StatedMM[1], 80) {
		t.Errorf("stated %v mm", drawn.StatedMM)
	}
	if len(drawn.Questions) == 0 || !strings.HasPrefix(drawn.Questions[0].ID, "read/") {
		t.Errorf("questions %v", drawn.Questions)
	}
	var bare api.Drawing
	d.call(t, http.MethodPost, "/v1/drawings", []byte(strings.ReplaceAll(faulty, `width="100mm" height="60mm"`, ""))).json(t, &bare)
	if bare.StatedMM != nil {
		t.Errorf("stated %v mm by a file that says nothing", bare.StatedMM)
	}
}

func near(got, want float64) bool { return got > want-1e-6 && got < want+1e-6 }
