package api_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

// A white disc and a green one on a dark blue plate.
const threeColours = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="60mm" viewBox="0 0 120 60">
<rect x="5" y="5" width="110" height="50" fill="#1f4e79"/><circle cx="35" cy="30" r="15" fill="#ffffff"/><circle cx="85" cy="30" r="15" fill="#2e8b57"/></svg>`

// A layered work becomes a plan for each film at once, which name each other. What is
// answered of the drawing in one is answered in all, and can be taken back; each has files
// and a price of its own.
func TestFilmsOverHTTP(t *testing.T) {
	d := open(t)
	first := d.submit(t, "sign.svg", []byte(threeColours), "film", "film-permanent-300=#1f4e79", "film", "film-removable-610=#ffffff", "options", `{"novice": true}`)
	question := "artwork/film:#2e8b57"
	if first.Status != "asking" || len(first.Questions) != 1 || first.Questions[0].ID != question || first.StockID != "film-permanent-300" {
		t.Fatalf("%s: %+v", first.Status, first.Questions)
	}
	if s := first.Stack; s == nil || len(s.Films) != 2 || s.Place != 1 || s.UnderlapMM != 1 || s.Films[1].PlanID == nil {
		t.Fatalf("stack %+v", s)
	}
	second := "/v1/plans/" + first.Stack.Films[1].PlanID.String()
	answer := func(p api.Plan, choice string) {
		body := fmt.Sprintf(`{"answers":{%q:{"answer":%q}}}`, question, choice)
		d.call(t, http.MethodPost, p.Links["answers"], []byte(body), "Content-Type", "application/json", "Prefer", "wait=30")
	}
	read := func(path string) (p api.Plan) {
		d.call(t, http.MethodGet, path, nil, "Prefer", "wait=30").json(t, &p)
		return p
	}
	answer(first, "film-2")
	one, two := read(first.Links["self"]), read(second)
	if one.Status != "ready" || two.Status != "ready" || two.StockID != "film-removable-610" || two.Stack.Place != 2 || two.Answers[question].Answer != "film-2" {
		t.Fatalf("answered: %s, %s with %+v", one.Status, two.Status, two.Answers)
	}
	for _, p := range []api.Plan{one, two} {
		if p.Estimate == nil || p.Usage.RollMM == 0 || p.Weeding.Kept != p.Stack.Place || math.Abs(p.Size.WidthMM-110) > 1e-6 {
			t.Errorf("film %d: %+v, %+v", p.Stack.Place, p.Usage, p.Size)
		}
		for _, link := range []string{"stack_preview", "artwork", "weeding_preview", "cut_file", "worksheet", "mended_svg"} {
			if a := d.call(t, http.MethodGet, p.Links[link], nil); a.status != http.StatusOK {
				t.Errorf("%s answers %d: %.200s", link, a.status, a.body)
			}
		}
	}
	one = read(first.Links["self"]) // with the price of the other
	tag := d.call(t, http.MethodGet, first.Links["self"], nil).header.Get("ETag")
	if s := one.Stack; s.Together == nil {
		t.Fatalf("one order is shown as %+v", s)
	} else if s.Together.TotalMinor != one.Estimate.TotalMinor+two.Estimate.TotalMinor ||
		s.Films[1].Status != "ready" || s.Films[1].TotalText != two.Estimate.TotalText || len(s.Films[1].Rules) != 1 || s.Films[1].Rules[0].Colour != "#ffffff" {
		t.Errorf("one order of %d and %d is shown as %+v", one.Estimate.TotalMinor, two.Estimate.TotalMinor, s)
	}
	if text := string(d.call(t, http.MethodGet, first.Links["self"], nil, "Accept", "text/plain").body); !strings.Contains(text, "2 films together: "+one.Stack.Together.TotalText) {
		t.Errorf("the summary does not say what both films take:\n%s", text)
	}
	if a := d.call(t, http.MethodGet, first.Links["self"], nil, "If-None-Match", tag); a.status != http.StatusNotModified {
		t.Errorf("an unchanged film answers %d", a.status)
	}
	d.call(t, http.MethodDelete, two.Links["answers"]+"/artwork%2Ffilm:%232e8b57", nil, "Prefer", "wait=30")
	if one := read(first.Links["self"]); one.Status != "asking" || len(one.Answers) != 0 {
		t.Errorf("taken back: %s with %+v", one.Status, one.Answers)
	}
	if a := d.call(t, http.MethodGet, first.Links["self"], nil, "If-None-Match", tag); a.status != http.StatusOK {
		t.Errorf("after both films changed, the tag of before answers %d", a.status)
	}
	whole := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	if a := d.call(t, http.MethodGet, whole.Links["self"]+"/previews/stack.svg", nil); a.status != http.StatusNotFound {
		t.Errorf("of a work of one film the stack answers %d", a.status)
	}
}

// A convention names the films, and what cannot be followed names its field.
func TestFilmsByConvention(t *testing.T) {
	d := open(t)
	const rules = `{"id":"signs","name":"Signs","version":1,"frame_is_sheet":false,"tolerance_de":2,"near_de":15,"rules":[
		{"colour":"#1f4e79","means":"cut","film":"film-permanent-300"},{"colour":"#ffffff","means":"cut","film":"film-removable-610"},{"colour":"#2e8b57","means":"nothing"}]}`
	if a := d.call(t, http.MethodPut, "/v1/conventions/signs", []byte(rules), "Content-Type", "application/json", "If-None-Match", "*"); a.status != http.StatusCreated && a.status != http.StatusOK {
		t.Fatalf("%d %s", a.status, a.body)
	}
	p := d.submit(t, "sign.svg", []byte(threeColours), "convention", "signs", "meet", "knock_out")
	if p.Status != "ready" || p.Stack == nil || p.Stack.Meet != "knock_out" || len(p.Stack.Films) != 2 {
		t.Errorf("%s: %+v", p.Status, p.Stack)
	}
}
