package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// What was answered is folded away with its answers, apart from what there is to look at,
// and opens when it is asked for.
func TestPageFoldsAwayWhatWasAnswered(t *testing.T) {
	d := open(t)
	p := d.submit(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610", "answer", "artwork/operation:score=nothing", "answer", "artwork/lines=cut")
	answered := 0
	for _, f := range p.Findings {
		if f.Answered {
			answered++
		}
	}
	if p.Status != "ready" || answered == 0 {
		t.Fatalf("%s, %d findings answered", p.Status, answered)
	}
	b := browse(t, d, 375, 900)
	b.do("the plan", chromedp.Navigate("about:blank"), chromedp.Navigate(d.URL+"/#"+p.ID.String()), chromedp.WaitVisible(`.files a`))
	const fold = `[...document.querySelectorAll('#plan details')].find(e => e.querySelector('summary').textContent.endsWith('as you answered'))`
	if n := value[int](b, `[`+fold+`].filter(Boolean).length`); n != 1 {
		t.Fatal("nothing is folded away as answered")
	}
	if value[bool](b, fold+`.open`) {
		t.Error("what was answered is not folded away")
	}
	if n := value[int](b, fold+`.querySelectorAll('li').length`); n != answered {
		t.Errorf("%d of %d answered findings are in the fold", n, answered)
	}
	if n := value[int](b, `[...document.querySelectorAll('#plan div.card .found li')].filter(e => e.textContent.includes('The answer was')).length`); n != 0 {
		t.Errorf("%d answered findings are told to be looked at", n)
	}
	value[bool](b, fold+`.querySelector('summary').click() || true`)
	if said := value[string](b, fold+`.innerText`); strings.Count(said, "The answer was") != answered {
		t.Errorf("the fold, opened, says %q", said)
	}
	b.accessible("what was answered")
	b.quiet()
}

// Beside the files of a plan the page gives out the test cuts that it needs first: their
// sheet and the file to cut from.
func TestPageGivesOutTestCuts(t *testing.T) {
	d := open(t)
	p := d.submit(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610", "answer", "artwork/operation:score=nothing", "answer", "artwork/lines=cut")
	b := browse(t, d, 375, 900)
	b.do("the plan", chromedp.Navigate("about:blank"), chromedp.Navigate(d.URL+"/#"+p.ID.String()), chromedp.WaitVisible(`#tab-passes`), chromedp.Click(`#tab-passes`), chromedp.WaitVisible(`.tests button`))
	first := 0
	for _, one := range p.Passes {
		if one.TestCut == "" {
			continue
		}
		first++
		for file, is := range map[string]string{"sheet.pdf": "%PDF", "cut.dxf": "AC10"} {
			if a := d.call(t, http.MethodGet, strings.Replace(one.TestCut, "sheet.json", file, 1), nil); a.status != http.StatusOK || !strings.Contains(string(a.body), is) {
				t.Errorf("%s answers %d", file, a.status)
			}
		}
	}
	if n := value[int](b, `document.querySelectorAll('.tests li').length`); n == 0 || n != first {
		t.Fatalf("%d test cuts are given out, %d are due", n, first)
	}
	const said = `document.querySelector('.tests + p').textContent`
	for button, name := range map[string]string{"DXF": "test-cut-" + p.Passes[0].SettingID + "-sheet-1_", "Sheet": "sheet.pdf"} {
		value[bool](b, fmt.Sprintf(`[...document.querySelectorAll('.tests button')].find(e => e.textContent === %q).click() || true`, button))
		b.do(button, waitFor(said+fmt.Sprintf(`.startsWith(%q) && `, name)+said+`.endsWith(' is saved.')`))
	}
	b.accessible("test cuts")
	b.keep("test cuts")
	b.quiet()
}

// Where both drawings of a lesson look the same, as where the fault is in the workshop, its
// page shows one picture and tells of both.
func TestHelpShowsOnceWhatLooksTheSame(t *testing.T) {
	d := open(t)
	b := browse(t, d, 375, 900)
	for page, want := range map[string]int{"/help/gap": 2, "/help/setting_missing": 1} {
		b.do("open "+page, chromedp.Navigate(d.URL+page), chromedp.WaitReady("main"))
		if n := value[int](b, `[...document.querySelectorAll('.pair figure')].filter(f => f.querySelector('svg').getBoundingClientRect().width > 200).length`); n != want {
			t.Errorf("%s shows %d pictures, want %d", page, n, want)
		}
		said := b.text("main")
		if !strings.Contains(said, "Like this it goes wrong.") || !strings.Contains(said, "Like this it is right.") || strings.Contains(said, "the same in both") != (want == 1) {
			t.Errorf("%s says %q", page, said)
		}
		b.accessible(page)
		b.keep(strings.ReplaceAll(page[1:], "/", "-"))
	}
	b.quiet()
}
