package api_test

import (
	"bytes"
	"image"
	_ "image/png"
	"net/http"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/boombuler/barcode/qr"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"knifedesk/api"
	"knifedesk/api/access"
	"knifedesk/geometry/geometrytest/reference"
)

// signed is the path with a signature that is good until then.
func (d *desk) signed(t *testing.T, path string, until time.Time) string {
	t.Helper()
	secret, err := d.store.SigningSecret(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return path + "?signed=" + access.NewSigner(secret).Sign(path, until)
}

// accepted is a plan of two plates that is ready and taken.
func (d *desk) accepted(t *testing.T) api.Plan {
	t.Helper()
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "copies", "2")
	send[api.Acceptance](t, d, http.MethodPost, p.Actions["accept"], fields{}, http.StatusCreated)
	return p
}

// A plan is closed with what was measured, once; an open one says what to measure, and
// what is off by more than a rule misreads is answered with what to do.
func measuredEndpoints(t *testing.T, d *desk) {
	open := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	at := open.Links["self"] + "/measured"
	if s := send[api.MeasureSheet](t, d, http.MethodGet, at, nil, http.StatusOK); s.State != "not_accepted" || len(s.Fields) != 3 {
		t.Errorf("%+v", s)
	}
	d.refuses(t, d.call(t, http.MethodPost, at, []byte(`{"values":{"cutter":5}}`), "Content-Type", "application/json"), 409, "not_accepted")

	p := d.accepted(t)
	at = p.Links["self"] + "/measured"
	report := func(body string) answer {
		return d.call(t, http.MethodPost, at, []byte(body), "Content-Type", "application/json")
	}
	d.refuses(t, report(`{"values":{"width":80}}`), 422, "not_measured")
	d.refuses(t, report(`{"values":{"length":800}}`), 422, "doubtful_value")
	d.refuses(t, report(`{"values":{"cutter":5000}}`), 422, "doubtful_value")
	got := send[api.MeasureSheet](t, d, http.MethodPost, at, fields{"values": fields{"length": 79.2, "cutter": p.Estimate.CutterMin.Likely}}, http.StatusCreated)
	if got.State != "reported" || len(got.Answers) != 2 || got.Answers[0].Expected != 80 || got.Answers[0].AsPlanned || !got.Answers[1].AsPlanned ||
		!strings.Contains(got.Answers[0].Text, "0.8 mm too short") || !strings.Contains(got.Answers[0].Text, "test cut") {
		t.Errorf("%+v", got)
	}
	d.refuses(t, report(`{"values":{"length":80}}`), 409, "already_reported")
	if s := send[api.MeasureSheet](t, d, http.MethodGet, at, nil, http.StatusOK); s.State != "reported" || len(s.Answers) != 1 {
		t.Errorf("looked at again: %+v", s)
	}
	measuredMarks(t, d)
}

// The marks of a test cut are told without its cells, and plans say what is off.
func measuredMarks(t *testing.T, d *desk) {
	at := tested + "/marks/film-removable-610/wide-610"
	if s := send[api.MeasureSheet](t, d, http.MethodGet, at, nil, http.StatusOK); s.State != "open" || len(s.Fields) != 2 {
		t.Errorf("%+v", s)
	}
	before := send[api.TestCut](t, d, http.MethodGet, filmTest+"sheet.json"+onFilm, nil, http.StatusOK)
	report := func(body string) answer {
		return d.call(t, http.MethodPost, at, []byte(body), "Content-Type", "application/json")
	}
	d.refuses(t, report(`{"values":{"across":100}}`), 422, "not_measured")
	d.refuses(t, report(`{"values":{"across":10.1,"along":100}}`), 422, "doubtful_value")
	d.refuses(t, d.call(t, http.MethodGet, tested+"/marks/nothing/wide-610", nil), 422, "not_of_setting")
	a := report(`{"values":{"across":100.6,"along":99.9}}`)
	a.wants(t, "marks", http.StatusCreated, "")
	kept := send[api.TrialResult](t, d, http.MethodGet, a.header.Get("Location"), nil, http.StatusOK)
	if kept.Trial.Aim != "lengths" || kept.Trial.Marks.AcrossMM != 100.6 {
		t.Errorf("%+v", kept.Trial)
	}
	if after := send[api.TestCut](t, d, http.MethodGet, filmTest+"sheet.json"+onFilm, nil, http.StatusOK); after.Sheet != before.Sheet {
		t.Errorf("sheet %s is %s after its marks were told: its cells can no longer be reported", before.Sheet, after.Sheet)
	}
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "machine", "wide-610", "frame", "none")
	if !hasFinding(p, "lengths_off") {
		t.Errorf("a plan does not say that lengths are off: %+v", p.Findings)
	}
	d.call(t, http.MethodDelete, a.header.Get("Location"), nil).wants(t, "taking it back", http.StatusNoContent, "")
	if p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "machine", "wide-610", "frame", "none"); hasFinding(p, "lengths_off") {
		t.Error("marks that were taken back are still told")
	}
}

func hasFinding(p api.Plan, code string) bool {
	for _, f := range p.Findings {
		if string(f.Code) == code {
			return true
		}
	}
	return false
}

// Where keys are needed the link of the sheet is enough, for its own path alone and until
// its end; and the code on the worksheet is that link.
func TestMeasuredByLinkAlone(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "desk", "manage")
	p, other := g.planned(t, staff), g.planned(t, staff)
	g.as(t, staff, "POST", p.Actions["accept"], `{}`).wants(t, "accepting", http.StatusCreated, "")
	at := p.Links["self"] + "/measured"
	link := g.signed(t, at, time.Now().Add(time.Hour))
	g.call(t, "GET", link, nil).wants(t, "the link", http.StatusOK, "")
	g.call(t, "GET", strings.Replace(link, p.ID.String(), other.ID.String(), 1), nil).wants(t, "another plan", http.StatusForbidden, "link_broken")
	g.call(t, "GET", g.signed(t, at, time.Now().Add(-time.Second)), nil).wants(t, "past its end", http.StatusForbidden, "link_expired")
	g.call(t, "GET", at, nil).wants(t, "nothing", http.StatusUnauthorized, "key_missing")
	body := []byte(`{"values":{"cutter":3}}`)
	for range 2 {
		g.call(t, "POST", link, body, "Content-Type", "application/json", "Idempotency-Key", "once").wants(t, "the report", http.StatusCreated, "")
	}
	sheet := g.as(t, staff, "GET", p.Links["worksheet"], "")
	const month = 30 * 24 * time.Hour
	until := time.Now().UTC().Truncate(month).Add(4 * month)
	if !codeSays(t, sheet.body, g.URL+"/measure#"+g.signed(t, at, until)) {
		t.Error("the code on the worksheet is not the link")
	}
}

// codeSays compares the code in the upper right corner of a page with that of a text
// module by module.
func codeSays(t *testing.T, page []byte, text string) bool {
	t.Helper()
	const side = 250 // 25 mm at 254 dpi, 12 mm from the edges of A4
	draw := exec.Command(reference.Tool(t, "pdftoppm"), "-png", "-r", "254", "-l", "1", "-x", "1730", "-y", "120", "-W", "250", "-H", "250")
	draw.Stdin = bytes.NewReader(page)
	out, err := draw.Output()
	if err != nil {
		t.Fatal(err)
	}
	seen, _, err := image.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	want, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		t.Fatal(err)
	}
	n := want.Bounds().Dx()
	for y := range n {
		for x := range n {
			a, _, _, _ := want.At(x, y).RGBA()
			b, _, _, _ := seen.At((2*x+1)*side/(2*n), (2*y+1)*side/(2*n)).RGBA()
			if (a < 0x8000) != (b < 0x8000) {
				return false
			}
		}
	}
	return true
}

// On a phone, by keyboard alone: mistakes are told at their field, what is doubtful is
// asked, and what was sent is not sent again.
func TestPageOfWhatWasMeasured(t *testing.T) {
	d := open(t)
	p := d.accepted(t)
	b := window(t, 375, 700)
	link := d.URL + "/measure#" + d.signed(t, p.Links["self"]+"/measured", time.Now().Add(time.Hour))
	b.do("open the code", chromedp.EmulateViewport(375, 700), chromedp.Navigate(link), chromedp.WaitVisible(`#send`))
	state := func(name string) {
		t.Helper()
		if w := value[int](b, `document.documentElement.scrollWidth`); w > 375 {
			t.Errorf("%s: the page is %d px wide", name, w)
		}
		b.accessible("measured, " + name)
		b.keep("measured-" + name)
	}
	state("empty")
	focus := func(want string) {
		t.Helper()
		if on := value[string](b, `document.activeElement.id`); on != want {
			t.Errorf("the focus is on %q, want %q", on, want)
		}
	}
	b.key(kb.Tab, kb.Enter) // into the first field, and sent empty
	focus("length")
	b.do("a word", chromedp.SendKeys(`#length`, "wide"), chromedp.SendKeys(`#length`, kb.Enter))
	if said := b.text(`#length-wrong`); !strings.Contains(said, "136.4") {
		t.Errorf("a word is answered with %q", said)
	}
	state("a mistake")
	fill := func(field, text string) {
		value[bool](b, `document.getElementById('`+field+`').value = '', true`)
		b.do("type", chromedp.SendKeys(`#`+field, text))
	}
	fill("length", "800")
	b.key(kb.Enter)
	b.do("doubt", chromedp.WaitVisible(`#sure`))
	focus("length")
	state("a doubt")
	fill("length", "79,9")
	fill("cutter", "4")
	b.key(kb.Enter)
	b.do("the answer", chromedp.WaitVisible(`#answers li`))
	focus("text")
	if said := b.text(`#answers`); !strings.Contains(said, "79.9 mm measured, 80 mm planned: as it should be.") {
		t.Errorf("the answer is %q", said)
	}
	state("told")
	b.do("open it again", chromedp.Reload(), chromedp.WaitVisible(`#answers li`))
	if value[bool](b, `!!document.querySelector('#send')`) || !strings.Contains(b.text(`#text`), "noted before") {
		t.Errorf("opened again it says %q", b.text(`#text`))
	}
	b.media("prefers-color-scheme", "dark")
	state("dark")
	if bad := value[bool](b, `performance.getEntriesByType('resource').some(e => new URL(e.name).origin !== location.origin)`); bad {
		t.Error("the page asks another service")
	}
}
