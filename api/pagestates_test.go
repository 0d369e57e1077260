package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"knifedesk/api"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// Every state of a plan on the page, in light, in the dark and in colours that the reader
// forces, on a desk and on a phone: axe-core finds nothing, nothing is wider than the
// screen, no picture is of another plan, the console says nothing, and whoever has only a keyboard
// finds what is to be done next.
func TestPageInEveryState(t *testing.T) {
	d := open(t)
	made := func(status string) string {
		t.Helper()
		p := d.submit(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610", "answer", "artwork/operation:score=nothing", "answer", "artwork/lines=cut", "copies", fmt.Sprint(len(status)))
		if _, err := d.store.Pool.Exec(t.Context(), `update plans set status = $2, failure = case when $2 = 'failed' then 'stage_failed' else '' end where id = $1`, p.ID, status); err != nil {
			t.Fatal(err)
		}
		return "/#" + p.ID.String()
	}
	at := func(p api.Plan) string { return "/#" + p.ID.String() }
	asks := d.submit(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610")
	gone := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	d.call(t, http.MethodDelete, gone.Links["self"], nil)
	layered := d.submit(t, "sign.svg", []byte(threeColours), "film", "film-permanent-300=#1f4e79", "film", "film-removable-610=#ffffff", "film", "film-removable-610=#2e8b57")
	for _, state := range []pageState{
		{"choose", "/", "#send", "Check it", "send"},
		{"asking", at(asks), "form.question", "We need an answer", ""},
		{"ready", made("ready"), ".files a", "It can be cut", ""},
		{"refused", at(d.submit(t, "letter.svg", []byte(onlyText), "stock", "film-removable-610")), ".block", "It cannot be cut like this", "Choose the changed drawing"},
		{"failed", made("failed"), ".head.failed", "tell the technician", "Try again"},
		{"cancelled", at(gone), ".head.cancelled", "the drawing is kept", "Check it again"},
		{"layered", at(layered), "ol.films", "lowest first", ""},
	} {
		t.Run(state.name, func(t *testing.T) { d.looksRight(t, state) })
	}
}

// pageState is a state of the page: where it is found, what shows that it is there, what it
// says, and the button for what comes next; "": there is none.
type pageState struct{ name, address, ready, says, next string }

// looksRight looks at the page in a state on each screen.
func (d *desk) looksRight(t *testing.T, state pageState) {
	t.Helper()
	for _, width := range []int{1100, 375} {
		b := browse(t, d, width, 900)
		b.do("the size", chromedp.EmulateViewport(int64(width), 900), chromedp.Navigate("about:blank"), chromedp.Navigate(d.URL+state.address), chromedp.WaitVisible(state.ready))
		if said := b.text("main"); !strings.Contains(said, state.says) {
			t.Errorf("it does not say %q:\n%s", state.says, said)
		}
		if state.next != "" && !value[bool](b, fmt.Sprintf(`[...document.querySelectorAll('main button')].some(e => (e.textContent === %q || e.id === %[1]q) && e.tabIndex === 0)`, state.next)) {
			t.Errorf("no button %q for what comes next", state.next)
		}
		if stale := value[[]string](b, `[...document.querySelectorAll('#plan img')].map(i => i.src).filter(s => !s.includes(location.hash.slice(1)))`); len(stale) > 0 {
			t.Errorf("pictures of another plan: %v", stale)
		}
		for _, look := range [][2]string{{"", ""}, {"prefers-color-scheme", "dark"}, {"forced-colors", "active"}} {
			if look[0] != "" {
				b.media(look[0], look[1])
			}
			name := fmt.Sprintf("%s %d %s", state.name, width, look[1])
			if w := value[int](b, `document.documentElement.scrollWidth`); w > width {
				t.Errorf("%s: the page is %d px wide", name, w)
			}
			b.accessible(name)
			b.keep(name)
		}
		b.quiet()
	}
}

// While a long nesting is at work the page says which step it is at and how far, and shows
// it by a bar, in all looks. No worker runs, so that it stays so.
func TestPageAtWork(t *testing.T) {
	d := startOn(t, api.Config{Keyless: true}, queue.Config{})
	d.seed(t, workshop.Example())
	body, kind := form(t, "puzzling.svg", []byte(puzzling), "stock", "film-removable-610", "copies", "40")
	var p api.Plan
	d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
	d.call(t, http.MethodGet, p.Links["self"], nil) // gathers its view
	d.looksRight(t, pageState{"at work", d.atWork(t, "/#"+p.ID.String()), "#progress", "Working it out: laying it on the stock … 37 % of this step", "send"})
}

// atWork brings the plan at an address to where its copies are being laid, 37 % of them, as
// in a long nesting, and returns the address.
func (d *desk) atWork(t *testing.T, address string) string {
	t.Helper()
	id := strings.TrimPrefix(address, "/#")
	var stored []byte
	if err := d.store.Pool.QueryRow(t.Context(), `select view from plans where id = $1`, id).Scan(&stored); err != nil {
		t.Fatal(err)
	}
	var v view.Plan
	if err := json.Unmarshal(stored, &v); err != nil {
		t.Fatal(err)
	}
	for i := range v.Progress {
		switch v.Progress[i].Job {
		case "layout":
			v.Progress[i].State = view.Queued
		case "passes", "estimate":
			v.Progress[i].State = view.Waiting
		default:
			v.Progress[i].State = view.Done
		}
	}
	stored, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.store.Pool.Exec(t.Context(), `update plans set status = 'working', view = $2, share = 0.37 where id = $1`, id, stored); err != nil {
		t.Fatal(err)
	}
	return address
}
