package api_test

import (
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"knifedesk/jobs/finding"
)

// Each finding and each question leads to a page that says what it means; the list
// has all of them.
func TestFindingsAreExplained(t *testing.T) {
	d := open(t)
	p := d.submit(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610")
	for _, path := range []string{p.Findings[0].Help, p.Questions[0].Help, "/help/gap", "/help/wider_than_machine", "/help/unknown_format"} {
		a := get(t, d, path)
		text := string(a.body)
		if a.status != http.StatusOK || !strings.HasPrefix(a.header.Get("Content-Type"), "text/html") || strings.Contains(text, "{{") || !strings.Contains(text, "How to see it") {
			t.Errorf("%s: %d, %.300s", path, a.status, text)
		}
		if policy := a.header.Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") {
			t.Errorf("%s: policy %q", path, policy)
		}
	}
	gap := string(get(t, d, "/help/gap").body)
	for _, want := range []string{"<svg", "0.8 mm", "Like this it is right.", "What you are asked", "The plan waits for your answer."} {
		if !strings.Contains(gap, want) {
			t.Errorf("the page of gaps lacks %q", want)
		}
	}
	list := string(get(t, d, "/help").body)
	for _, code := range finding.Codes() {
		if !strings.Contains(list, `href="/help/`+string(code)+`"`) {
			t.Errorf("the list lacks %s", code)
		}
	}
	if a := get(t, d, "/help/nonsense"); a.status != http.StatusNotFound {
		t.Errorf("an unknown code answers %d", a.status)
	}
}

// get reads a page that the specification does not know.
func get(t *testing.T, d *desk, path string) answer {
	t.Helper()
	resp, err := http.Get(d.URL + path)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer{resp.StatusCode, resp.Header, body}
}

// The pages read well on a phone, and axe-core finds nothing.
func TestHelpInABrowser(t *testing.T) {
	d := open(t)
	b := browse(t, d, 1100, 900)
	for _, page := range []string{"/help", "/help/gap", "/help/size_unit_mended"} {
		b.do("open "+page, chromedp.Navigate(d.URL+page), chromedp.WaitReady("main"))
		b.accessible(page)
		b.keep(strings.ReplaceAll(page[1:], "/", "-"))
	}
	b.do("375 px", chromedp.EmulateViewport(375, 700))
	if w := value[int](b, `document.documentElement.scrollWidth`); w > 375 {
		t.Errorf("the page is %d px wide", w)
	}
	b.media("prefers-color-scheme", "dark")
	b.accessible("dark")
	b.keep("help-phone")
	b.quiet()
}
