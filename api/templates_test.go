package api_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
	"knifedesk/jobs/workshop"
)

// ready returns the data that a workshop starts with, when it has said of its
// machines what they make up for.
func ready() workshop.Data {
	data := workshop.Neutral()
	for i := range data.Machines {
		data.Machines[i].Compensates = workshop.CompensatesNothing
	}
	return data
}

// A square of 60 mm that is drawn in the starter file of any stock, in either format,
// is planned at 60.00 mm, and nothing is asked. In the file as it was fetched there is
// nothing to cut.
func TestTemplatesCarryTheSize(t *testing.T) {
	d, data := openEmpty(t, api.Config{}), ready()
	d.seed(t, data)
	for _, s := range data.Stocks {
		for _, ending := range []string{".svg", ".dxf"} {
			a := d.call(t, http.MethodGet, "/v1/templates/"+s.ID+ending, nil)
			if a.status != http.StatusOK {
				t.Fatalf("%s%s: %d %s", s.ID, ending, a.status, a.body)
			}
			p := d.submit(t, "begun"+ending, []byte(withSquare(t, string(a.body))), "stock", s.ID, "options", `{"nesting":"rows"}`)
			if p.Status != "ready" || len(p.Questions) > 0 || p.Size == nil || math.Abs(p.Size.WidthMM-60) > 0.005 || math.Abs(p.Size.HeightMM-60) > 0.005 {
				t.Errorf("%s%s: %s, size %+v, questions %+v, findings %+v", s.ID, ending, p.Status, p.Size, p.Questions, p.Findings)
			}
			if ending == ".svg" {
				continue // of what holds nothing one format is enough
			}
			p = d.submit(t, "bare"+ending, a.body, "stock", s.ID)
			if p.Status != "refused" || len(p.Questions) > 0 || !finds(p, "nothing_to_cut") {
				t.Errorf("bare %s%s: %s, questions %+v, findings %+v", s.ID, ending, p.Status, p.Questions, p.Findings)
			}
		}
	}
}

// withSquare draws a square of 60 mm on the layer CUT of a starter file.
func withSquare(t *testing.T, file string) string {
	t.Helper()
	if before, after, ok := strings.Cut(file, `<g id="CUT"`); ok {
		return before + `<g id="CUT"` + strings.Replace(after, "</g>", `<path d="M70 80h60v60h-60z"/></g>`, 1)
	}
	before, after, ok := strings.Cut(file, "ENTITIES\n")
	if !ok || !strings.Contains(before, "\nCUT\n") {
		t.Fatalf("no layer CUT in %s", file)
	}
	square := "  0\nLWPOLYLINE\n  8\nCUT\n 90\n4\n 70\n1\n"
	for _, c := range [][2]int{{70, 80}, {130, 80}, {130, 140}, {70, 140}} {
		square += fmt.Sprintf(" 10\n%d\n 20\n%d\n", c[0], c[1])
	}
	return before + "ENTITIES\n" + square + after
}

func finds(p api.Plan, code string) bool {
	for _, f := range p.Findings {
		if string(f.Code) == code {
			return true
		}
	}
	return false
}

// The frame of a roll names its size in the file: written again in points under a header
// that says mm, the size still comes back, and a factor without a cause is asked. A sheet takes no size, and no frame is
// larger than its roll.
func TestTemplateOfARoll(t *testing.T) {
	d := open(t)
	const path = "/v1/templates/film-removable-610.svg"
	a := d.call(t, http.MethodGet, path+"?width_mm=437&length_mm=1210", nil)
	file := withSquare(t, string(a.body))
	if !strings.Contains(file, "PAGE_437x1210") || a.header.Get("Content-Disposition") == "" {
		t.Fatalf("%s", file)
	}
	inPoints := strings.NewReplacer(`<path d="`, `<path transform="scale(2.8346456693)" d="`).Replace(file)
	p := d.submit(t, "points.svg", []byte(inPoints), "stock", "film-removable-610")
	if p.Status != "ready" || math.Abs(p.Size.WidthMM-60) > 0.005 {
		t.Errorf("%s, size %+v, findings %+v", p.Status, p.Size, p.Findings)
	}
	fitted := strings.NewReplacer(`<path d="`, `<path transform="scale(0.97)" d="`).Replace(file)
	if p := d.submit(t, "fitted.svg", []byte(fitted), "stock", "film-removable-610"); p.Status != "asking" {
		t.Errorf("a frame at 97 %%, for which nothing speaks but the name of its layer: %s, size %+v", p.Status, p.Size)
	}
	stretched := strings.Replace(file, "M0 1210L437 1210", "M0 1210L450 1210", 1)
	if p := d.submit(t, "stretched.svg", []byte(stretched), "stock", "film-removable-610"); stretched == file || p.Status != "asking" {
		t.Errorf("a frame that was pulled at a corner: %s, %s", p.Status, stretched)
	}
	for query, want := range map[string]string{
		path + "?width_mm=620": "off_stock", path + "?length_mm=60000": "off_stock", path + "?convention=none": "not_found",
		"/v1/templates/card-160-a4.svg?width_mm=100": "no_roll",
	} {
		status := http.StatusUnprocessableEntity
		if want == "not_found" {
			status = http.StatusNotFound
		}
		d.refuses(t, d.call(t, http.MethodGet, query, nil), status, want)
	}
	d.refuses(t, d.call(t, http.MethodGet, "/v1/templates/tin.dxf", nil), http.StatusNotFound, "not_found")
}
