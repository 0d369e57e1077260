package proof_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/proof"
	"knifedesk/jobs/workshop"
)

// planned are the results of a plan for a drawing on film.
func planned(t *testing.T, drawing string) *view.Results {
	t.Helper()
	list := jobs.NewList()
	req, err := list.Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610", Copies: 1})
	if err != nil {
		t.Fatal(err)
	}
	done, _, err := local.Run(t.Context(), list.Rows[:3], []byte(drawing), req)
	if err != nil {
		t.Fatal(err)
	}
	return list.Shown(local.Results(done))
}

// plate is a plate of 380 × 410 mm with curves.
const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="450mm" viewBox="0 0 400 450"><g id="CUT" stroke="#007c91" fill="none">` +
	`<path d="M10 20h380v410h-380z"/><circle cx="200" cy="225" r="60"/></g></svg>`

// page is a page as poppler shows it, in mm with y up.
type page struct {
	text  string
	width float64
	paths []geometry.Path
}

// pagesOf has poppler take a proof apart, without fitting pages to its own paper.
func pagesOf(t *testing.T, r *view.Results, paper proof.Paper) []page {
	t.Helper()
	var b bytes.Buffer
	if err := proof.Write(t.Context(), &b, r, paper); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "proof.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(tool string, args ...string) []byte {
		out, err := exec.Command(reference.Tool(t, tool), args...).Output()
		if err != nil {
			t.Fatal(tool, err)
		}
		return out
	}
	var pages []page
	for n, text := range strings.Split(strings.TrimSuffix(string(run("pdftotext", "-raw", file, "-")), "\f"), "\f") {
		number := fmt.Sprint(n + 1)
		d, err := svg.Read(t.Context(), bytes.NewReader(run("pdftocairo", "-svg", "-noshrink", "-nocenter", "-f", number, "-l", number, file, "-")), svg.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := page{text: strings.Join(strings.Fields(text), " "), width: d.Page.Width() * d.Unit.MM}
		for _, s := range d.Shapes {
			for _, one := range s.Paths {
				if s.Stroke != nil {
					p.paths = append(p.paths, one.Transform(geometry.Scale(d.Unit.MM, d.Unit.MM)))
				}
			}
		}
		pages = append(pages, p)
	}
	return pages
}

// has reports whether the page draws a line with a box of this size, within 0.01 mm.
func (p *page) has(w, h float64) bool {
	for _, one := range p.paths {
		b := one.Bounds()
		if math.Abs(b.Width()-w) <= 0.01 && math.Abs(b.Height()-h) <= 0.01 {
			return true
		}
	}
	return false
}

// Every tile has the rule of 100 mm, the card and the words; the work is drawn at its
// size, its curves included. Source: poppler, ISO/IEC 7810 for the card; 0.01 mm.
func TestProofIsTrue(t *testing.T) {
	r := planned(t, plate)
	for _, tt := range []struct {
		paper proof.Paper
		wide  float64
		tiles int
	}{{proof.A4(), 210, 6}, {proof.Letter(), 215.9, 6}} {
		pages := pagesOf(t, r, tt.paper)
		if len(pages) != tt.tiles {
			t.Errorf("%d pages on %v, want %d", len(pages), tt.paper, tt.tiles)
		}
		work := 0
		for i := range pages {
			p := &pages[i]
			if math.Abs(p.width-tt.wide) > 0.01 {
				t.Errorf("page %d is %.3f mm wide", i+1, p.width)
			}
			if !p.has(proof.RuleMM, 0) || !p.has(85.6, 53.98) {
				t.Errorf("page %d has no rule of 100 mm, or no card", i+1)
			}
			for _, want := range []string{"100 mm", "Print at 100 %", "True size: 380 × 410 mm", "Lay a bank card here"} {
				if !strings.Contains(p.text, want) {
					t.Errorf("page %d lacks %q: %s", i+1, want, p.text)
				}
			}
			if p.has(380, 410) {
				work++
			}
			if p.has(120, 120) {
				work += 100
			}
		}
		if work < 100+tt.tiles-1 {
			t.Errorf("the work stands on too few pages: %d", work)
		}
	}
}

// Tiles that touch nothing are left out; what takes too many is refused.
func TestProofOfLongWork(t *testing.T) {
	if pages := pagesOf(t, planned(t, strings.Replace(plate, "M10 20h380v410h-380z", "M10 20h20v20h-20zM370 410h20v20h-20z", 1)), proof.A4()); len(pages) >= 6 {
		t.Errorf("%d pages for work in two corners and the middle", len(pages))
	}
	long := `<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="30m" viewBox="0 0 500 30000"><g id="CUT" stroke="#007c91" fill="none"><path d="M0 0h500v30000h-500zM20 20h400v20h-400z"/></g></svg>`
	long = strings.Replace(long, `"30m"`, `"30000mm"`, 1)
	r := planned(t, long)
	if err := proof.Write(t.Context(), io.Discard, r, proof.A4()); !errors.Is(err, proof.ErrTooLarge) {
		t.Errorf("30 m of work: %v", err)
	}
	if err := proof.Write(t.Context(), io.Discard, &view.Results{}, proof.A4()); !errors.Is(err, proof.ErrNoSize) {
		t.Errorf("no results: %v", err)
	}
}

// Of a plan that asks about the size each likely size is printed at its size, with the
// words of the answer. Source: the answers themselves.
func TestProofOfOpenSize(t *testing.T) {
	r := planned(t, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 300"><path d="M0 0h390v280h-390zM50 50c60 -40 90 60 150 10" stroke="#007c91" fill="none"/></svg>`)
	if len(r.Size.Questions) == 0 {
		t.Fatal("nothing is asked")
	}
	pages := pagesOf(t, r, proof.A4())
	n := 0
	for _, a := range r.Size.Questions[0].Answers {
		if a.WidthMM == 0 || n == len(pages) {
			continue
		}
		p := &pages[n]
		if n++; !p.has(a.WidthMM, a.HeightMM) || !strings.Contains(p.text, fmt.Sprintf("Size %d of ", n)) || !strings.Contains(p.text, a.Label) {
			t.Errorf("page %d is not %q at %.2f × %.2f: %s", n, a.Label, a.WidthMM, a.HeightMM, p.text)
		}
	}
	if n < 2 || !regexp.MustCompile(`Size 1 of [2-4]:`).MatchString(pages[0].text) {
		t.Errorf("%d sizes: %s", n, pages[0].text)
	}
}
