package api_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Lines of two colours that no rule of the workshop knows, and a fold, which
// makes no sense on film: several questions at once.
const puzzling = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g fill="none">
<rect x="10" y="10" width="80" height="40" stroke="#007c91"/><path d="M10 30H90" stroke="#7a3eb1"/>
<circle cx="30" cy="20" r="5" stroke="#d03030"/><circle cx="70" cy="20" r="5" stroke="#30d030"/></g></svg>`

func drawingFile(t testing.TB, name, body string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, []byte(body), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

const (
	film      = `input[name=stock][value="film-removable-610"]`
	planTitle = `#plan h2`
)

// A student sends a drawing by the page in a real browser, is asked several
// things, answers them in one go, changes the copies without another upload,
// and takes worksheet and file with her. The link shows the plan again.
func TestPageFromDrawingToWorksheet(t *testing.T) {
	d := open(t)
	b := browse(t, d, 1100, 1400)
	b.accessible("empty form")
	b.do("a starter file for a roll", chromedp.Click(film), chromedp.Click(`#starter summary`), chromedp.SetValue(`#starter-width`, "300"), chromedp.Click(`[data-starter=svg]`),
		waitFor(`document.getElementById('starter-said').textContent.includes('is saved')`))
	b.accessible("starter file")
	b.do("one that is too wide", chromedp.SetValue(`#starter-width`, "3000"), chromedp.Click(`[data-starter=dxf]`),
		waitFor(`document.getElementById('starter-said').textContent.startsWith('From 10 to 610 mm')`))
	b.keep("form")
	b.do("send a drawing",
		chromedp.SetUploadFiles(`#file`, []string{drawingFile(t, "puzzling.svg", puzzling)}),
		chromedp.Click(film), chromedp.Click(`#send`), chromedp.WaitVisible(`form.question`))
	b.accessible("asking")
	b.keep("asking")
	if n := value[int](b, `document.querySelectorAll('form.question > fieldset').length`); n < 2 {
		t.Errorf("%d questions are asked at once, 2 at least are due", n)
	}
	for range 3 { // an answer may bring up another question
		if value[bool](b, `!document.querySelector('form.question')`) {
			break
		}
		value[bool](b, `document.querySelectorAll('form.question > fieldset').forEach(f => f.querySelector('input[type=radio]').click()) || true`)
		b.do("send the answers", chromedp.Click(`form.question > button`), chromedp.WaitNotPresent(`#plan[aria-busy]`))
	}
	b.do("wait for the plan", chromedp.WaitVisible(`.files a`))
	for _, want := range []string{"It can be cut", "80 × 40 mm", "credit", "at the cutter"} {
		if text := b.text(`#plan`); !strings.Contains(text, want) {
			t.Errorf("the page does not show %q:\n%s", want, text)
		}
	}
	b.accessible("ready")
	b.keep("ready")
	picturesLoad(b)
	for _, link := range value[[]string](b, `[...document.querySelectorAll('.files a')].map(a => a.getAttribute('href'))`) {
		if a := d.call(t, http.MethodGet, link, nil); a.status != http.StatusOK || len(a.body) == 0 {
			t.Errorf("%s answers %d", link, a.status)
		}
	}

	before, address := b.text(`.gist`), value[string](b, `location.href`)
	b.do("ask for five", chromedp.SetValue(`#copies`, "5"))
	value[bool](b, `document.getElementById('copies').dispatchEvent(new Event('input', {bubbles: true}))`)
	b.do("wait for another plan", waitFor(`document.querySelector('.gist').textContent.includes('5 copies')`))
	if after := b.text(`.gist`); after == before || value[bool](b, `!!document.querySelector('form.question')`) {
		t.Errorf("five copies give %q, and what was answered is asked again", after)
	}
	b.do("open the first plan's link", chromedp.Navigate("about:blank"), chromedp.Navigate(address), chromedp.WaitVisible(`.files a`))
	if again := b.text(`.gist`); again != before {
		t.Errorf("the link shows %q, it was %q", again, before)
	}
	b.quiet()
}

// picturesLoad looks at every tab: its picture has come, and no other is shown.
func picturesLoad(b *browser) {
	b.t.Helper()
	for i := range value[int](b, `document.querySelectorAll('[role=tab]').length`) {
		id := value[string](b, `(() => { const t = document.querySelectorAll('[role=tab]')[`+string(rune('0'+i))+`]; t.click(); return t.getAttribute('aria-controls'); })()`)
		if shown := value[[]string](b, `[...document.querySelectorAll('[role=tabpanel]')].filter(p => !p.hidden).map(p => p.id)`); len(shown) != 1 || shown[0] != id {
			b.t.Errorf("the tab of %s shows %v", id, shown)
		}
		b.do("wait for the pictures of "+id, waitFor(`[...document.querySelectorAll('#`+id+` img')].every(i => i.complete && i.naturalWidth > 0)`))
		b.keep(id)
	}
}

// With the keyboard alone: every step can be reached and is seen to have the
// focus.
func TestPageByKeyboard(t *testing.T) {
	d := open(t)
	b := browse(t, d, 1100, 1400)
	focus := func() string {
		return value[string](b, `(e => e.dataset.example || e.value || e.id || e.textContent.trim())(document.activeElement)`)
	}
	reach := func(want string) {
		t.Helper()
		for range 40 {
			if focus() == want {
				if value[string](b, `getComputedStyle(document.activeElement).outlineStyle`) == "none" {
					t.Errorf("%s has the focus and does not show it", want)
				}
				return
			}
			b.key(kb.Tab)
		}
		t.Fatalf("the tab key does not reach %q", want)
	}
	reach("sign.svg")
	b.key(kb.Enter)
	b.do("wait for the plan", chromedp.WaitVisible(`.files a`))
	if on := focus(); on != "plan" {
		t.Errorf("after the plan has come the focus is on %q", on)
	}
	reach("tab-size")
	b.key(kb.ArrowRight, kb.ArrowRight)
	if shown := value[string](b, `document.querySelector('[role=tabpanel]:not([hidden])').id`); shown != "panel-weeding" {
		t.Errorf("two steps to the right show %s", shown)
	}
	b.key(kb.Home)
	if shown := value[string](b, `document.querySelector('[role=tabpanel]:not([hidden])').id`); shown != "panel-size" {
		t.Errorf("Home shows %s", shown)
	}
	b.key(kb.End, kb.ArrowLeft)
	reach("Play")
	b.key(kb.Enter)
	b.do("let it play", waitFor(`document.querySelector('.player input').value > 0`))
	b.key(kb.Enter)
	stopped := value[float64](b, `Number(document.querySelector('.player input').value)`)
	reach("Step on")
	b.key(kb.Enter)
	if at := value[float64](b, `Number(document.querySelector('.player input').value)`); at <= stopped {
		t.Errorf("a step leads from %g s to %g s", stopped, at)
	}
	b.keep("replay")
	b.quiet()
}

// On a phone, in the dark, and with colours that the reader forces: nothing is
// wider than the screen and nothing fails axe-core.
func TestPageOnOtherScreens(t *testing.T) {
	d := open(t)
	b := browse(t, d, 375, 700)
	b.do("375 px", chromedp.EmulateViewport(375, 700))
	b.do("take an example", chromedp.Click(`[data-example="tent.svg"]`), chromedp.WaitVisible(`form.question`))
	narrow := func(state string) {
		t.Helper()
		if w := value[int](b, `document.documentElement.scrollWidth`); w > 375 {
			t.Errorf("%s: the page is %d px wide", state, w)
		}
		b.accessible(state)
		b.keep(state)
	}
	narrow("phone asking")
	b.do("answer", chromedp.Click(`form.question .answer input`), chromedp.Click(`form.question > button`), chromedp.WaitVisible(`.files a`))
	narrow("phone ready")
	picturesLoad(b)
	replay := func() {
		t.Helper()
		b.do("watch it run", chromedp.Click(`#tab-replay`), chromedp.WaitVisible(`.player`), chromedp.Click(`.controls button:last-of-type`))
	}
	replay()
	if said := b.text(`.now-says`); !strings.Contains(said, "Pass 1 of 2: score") {
		t.Errorf("the tent's cut begins with %q", said)
	}
	if list := b.text(`.order`); !strings.Contains(list, "What lies inside comes before") || !strings.Contains(list, "Pass 2: through cut") {
		t.Errorf("the order is told as %q", list)
	}
	narrow("phone replay")
	b.media("prefers-color-scheme", "dark")
	narrow("phone dark")
	b.media("forced-colors", "active")
	narrow("phone forced colours")
	b.media("prefers-reduced-motion", "reduce")
	b.do("open the link anew", chromedp.Reload(), chromedp.WaitVisible(`.files a`))
	replay()
	if value[bool](b, `!!document.querySelector('.play')`) || !strings.Contains(b.text(`.player`), "asks for less motion") {
		t.Error("it plays where less motion is asked for")
	}
	narrow("phone still replay")
	b.quiet()
}

// What cannot be planned says so and loses nothing.
func TestPageOfARefusedDrawing(t *testing.T) {
	d := open(t)
	b := browse(t, d, 1100, 1400)
	b.do("send nothing", chromedp.Click(`#send`))
	if said := b.text(`#state`); !strings.Contains(said, "Choose a drawing") {
		t.Errorf("without a drawing the page says %q", said)
	}
	b.do("send what is no drawing",
		chromedp.SetUploadFiles(`#file`, []string{drawingFile(t, "letter.svg", "Dear workshop")}),
		chromedp.Click(film), chromedp.Click(`#send`), chromedp.WaitVisible(`.block`))
	if text := b.text(`#plan`); len(text) < 20 {
		t.Errorf("the page says only %q", text)
	}
	b.accessible("refused")
	b.keep("refused")
}

// dearLabel is a drawing of which 12 copies on film take less if it is some mm narrower.
func (d *desk) dearLabel(t *testing.T) string {
	t.Helper()
	for w := 198; w > 160; w -= 4 {
		label := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="220mm" height="80mm" viewBox="0 0 220 80">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="%d" height="60"/><circle cx="40" cy="40" r="9"/></g></svg>`, w)
		p := d.submit(t, "label.svg", []byte(label), "stock", "film-removable-610", "copies", "12")
		if p.Estimate != nil && len(p.Estimate.Cheaper) > 0 && p.Estimate.Cheaper[0].NarrowerMM > 0 {
			return label
		}
	}
	t.Fatal("no label of these would be cheaper narrower")
	return ""
}

// What would be cheaper stands with the money: tried at once by one press, and taken back
// by another.
func TestPageTriesWhatIsCheaper(t *testing.T) {
	d := open(t)
	b := browse(t, d, 1100, 1400)
	label := d.dearLabel(t)
	b.do("send labels", chromedp.SetUploadFiles(`#file`, []string{drawingFile(t, "label.svg", label)}), chromedp.Click(film))
	value[bool](b, `document.getElementById('copies').value = 12, true`)
	b.do("check them", chromedp.Click(`#send`), chromedp.WaitVisible(`.hints button`))
	b.accessible("a hint")
	b.keep("hint")
	dear, first := b.text(`.facts`), b.text(`.gist`)
	b.do("look at the layout", chromedp.Click(`#tab-layout`))
	b.do("try it", chromedp.Click(`.hints button`), waitFor(`[...document.querySelectorAll('.hints button')].some(e => e.textContent === 'Undo')`))
	if cheap := b.text(`.facts`); cheap == dear || !strings.Contains(b.text(`.hints`), "mm narrower") {
		t.Errorf("tried, it takes %q, and before %q: %q", cheap, dear, b.text(`.hints`))
	}
	if tab := value[string](b, `document.querySelector('[role=tabpanel]:not([hidden])').id`); tab != "panel-layout" {
		t.Errorf("after the change the page shows %s", tab)
	}
	id := value[string](b, `location.hash.slice(1)`)
	if stale := value[bool](b, `[...document.querySelectorAll('#plan img')].some(i => !i.src.includes('`+id+`'))`); stale {
		t.Error("a picture is of the plan before the change")
	}
	b.accessible("a hint that is tried")
	b.keep("hint-tried")
	b.do("take it back", chromedp.Click(`.hints li:last-child button`), waitFor(`[...document.querySelectorAll('.hints button')].every(e => e.textContent !== 'Undo')`))
	if b.text(`.facts`) != dear || b.text(`.gist`) != first {
		t.Errorf("taken back it is %q, %q; it was %q, %q", b.text(`.gist`), b.text(`.facts`), first, dear)
	}
	b.quiet()
}
