package view_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// A plate of 80 × 40 mm with a hole of 16 mm.
const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/><circle cx="30" cy="30" r="8"/></g></svg>`

func planned(t *testing.T, stock string, copies int) (*view.View, *plan.Request, string) {
	t.Helper()
	return plannedOf(t, plate, plan.Choices{Stock: stock, Copies: copies})
}

func plannedOf(t *testing.T, file string, choices plan.Choices) (*view.View, *plan.Request, string) {
	t.Helper()
	return plannedBy(t, workshop.Example(), file, choices)
}

func plannedBy(t *testing.T, shop workshop.Data, file string, choices plan.Choices) (*view.View, *plan.Request, string) {
	t.Helper()
	req, err := plan.Choose(shop, choices)
	if err != nil {
		t.Fatal(err)
	}
	stages, status, err := queue.Local(context.Background(), queue.Stages(), []byte(file), *req)
	if err != nil {
		t.Fatal(err)
	}
	results := map[string]json.RawMessage{}
	for _, s := range stages {
		results[s.Stage] = s.Body
	}
	v, err := view.Decode(results)
	if err != nil {
		t.Fatal(err)
	}
	return v, req, string(status)
}

func TestTextTellsThePlan(t *testing.T) {
	v, req, status := planned(t, "film-removable-610", 4)
	text := view.Text(status, req, v)
	for _, want := range []string{"ready", "80 × 40 mm", "1 piece stays; 1 counter and 0 grounds come out", "mm of roll", "kiss cut", "make a test cut", "credit", "Local rules"} {
		if !strings.Contains(text, want) {
			t.Errorf("the summary lacks %q:\n%s", want, text)
		}
	}
}

// A refused plan asks nothing: what was open in it is told without a question.
func TestTextOfARefusedPlanAsksNothing(t *testing.T) {
	// No unit and no frame, and a part at the ratio of two units that a person called wrong.
	const drawn = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200"><g id="CUT" fill="none" stroke="#007c91"><path d="M0 0h20v20z"/>
<svg x="40" y="40" width="96" height="96" viewBox="0 0 25.4 25.4"><path d="M0 0h9v9z"/></svg></g></svg>`
	choices := plan.Choices{Stock: "card-160-a4"}
	for _, tt := range []struct {
		status  string
		replies ask.Replies
	}{{"asking", nil}, {"refused", ask.Replies{"size/nested_scale": {Answer: "not_as_placed"}}}} {
		choices.Replies = tt.replies
		v, req, status := plannedOf(t, drawn, choices)
		text := view.Text(status, req, v)
		asks := tt.status == "asking"
		if status != tt.status || strings.Contains(text, "\nasked ") != asks || strings.Contains(text, "\nquestion ") != asks ||
			!strings.Contains(text, "Nothing in the drawing says how large it is") {
			t.Errorf("%s, want %s:\n%s", status, tt.status, text)
		}
	}
}

// A plan that is refused at its passes, here for want of a setting, has
// pictures of all stages before.
func TestPicturesOfAPlanWithoutPasses(t *testing.T) {
	shop := workshop.Example()
	shop.Settings = nil
	v, _, status := plannedBy(t, shop, plate, plan.Choices{Stock: "card-160-a4"})
	pictures, err := v.Pictures(t.Context())
	if err != nil || status != "refused" || pictures["layout"] == nil || pictures["passes"] != nil {
		t.Errorf("%s: %d pictures, %v", status, len(pictures), err)
	}
}

// The worksheet is one A4 page with the facts, by an independent reader.
func TestWorksheetIsOnePage(t *testing.T) {
	pdftotext := tool(t, "pdftotext")
	pdfinfo := tool(t, "pdfinfo")
	for _, stock := range []string{"film-removable-610", "card-160-a4", "film-heat-500"} {
		v, req, _ := planned(t, stock, 40)
		var first bytes.Buffer
		about := view.About{Plan: "b2c1", Drawing: "plate.svg", Reference: "bay 4", Request: req}
		if err := v.Worksheet(t.Context(), &first, about); err != nil {
			t.Fatal(err)
		}
		info := run(t, pdfinfo, first.Bytes(), "-")
		if !strings.Contains(info, "Pages:           1") || !strings.Contains(info, "A4") {
			t.Errorf("%s: %s", stock, info)
		}
		text := run(t, pdftotext, first.Bytes(), "-layout", "-", "-")
		for _, want := range []string{"Worksheet", "plate.svg, bay 4", "80 × 40 mm", "Cautions", "Local rules", req.Stock.Name} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the page lacks %q:\n%s", stock, want, text)
			}
		}
	}
}

// The same plan gives the same bytes, whether its date is known or not.
func TestWorksheetsAreAlike(t *testing.T) {
	v, req, _ := planned(t, "card-160-a4", 2)
	for _, made := range []time.Time{{}, time.Date(2030, 5, 6, 7, 8, 9, 0, time.FixedZone("", 3600))} {
		about := view.About{Plan: "b2c1", Drawing: "a\u00a0b -\u00ad.svg", Made: made, Request: req}
		var first bytes.Buffer
		if err := v.Worksheet(t.Context(), &first, about); err != nil {
			t.Fatal(err)
		}
		for range 4 {
			var again bytes.Buffer
			if err := v.Worksheet(t.Context(), &again, about); err != nil || !bytes.Equal(again.Bytes(), first.Bytes()) {
				t.Errorf("made %v: another file, %v", made, err)
			}
			about.Made = about.Made.In(time.FixedZone("", 7200))
		}
		about.Plan = "b2c2"
		var other bytes.Buffer
		if err := v.Worksheet(t.Context(), &other, about); err != nil || bytes.Equal(other.Bytes(), first.Bytes()) {
			t.Errorf("made %v: another plan has the same file, %v", made, err)
		}
	}
}

// Files to cut from read back at true size: both copies with their holes.
func TestLoadsReadBackAtTrueSize(t *testing.T) {
	v, _, _ := planned(t, "card-160-a4", 2)
	for format, read := range map[view.Format]func([]byte) (width, length float64, err error){
		view.DXF: func(b []byte) (float64, float64, error) {
			d, err := dxf.Read(t.Context(), bytes.NewReader(b), dxf.Options{})
			if err != nil {
				return 0, 0, err
			}
			return d.Bounds().Width() * d.Unit.MM, d.Bounds().Height() * d.Unit.MM, nil
		},
		view.SVG: func(b []byte) (float64, float64, error) {
			d, err := svg.Read(t.Context(), bytes.NewReader(b), svg.Options{})
			if err != nil {
				return 0, 0, err
			}
			return d.Bounds().Width() * d.Unit.MM, d.Bounds().Height() * d.Unit.MM, nil
		},
	} {
		var b bytes.Buffer
		if err := v.WriteLoad(t.Context(), &b, 1, format); err != nil {
			t.Fatal(err)
		}
		width, height, err := read(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		box := v.Layout.Loads[0].Placements[0].Bounds.Union(v.Layout.Loads[0].Placements[1].Bounds)
		if d := width - box.Width(); d > 1e-6 || d < -1e-6 {
			t.Errorf("%s is %.6f mm wide, the layout %.6f", format, width, box.Width())
		}
		if d := height - box.Height(); d > 1e-6 || d < -1e-6 {
			t.Errorf("%s is %.6f mm high, the layout %.6f", format, height, box.Height())
		}
	}
}

func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("KNIFEDESK_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skipf("tool missing: %v", err)
	}
	return path
}

func run(t *testing.T, program string, input []byte, args ...string) string {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Stdin = bytes.NewReader(input)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v", program, err)
	}
	return string(out)
}

// Names come from outside: letters that the font lacks, and names that are
// longer than the page is wide, still give a page.
func TestWorksheetOfOddNames(t *testing.T) {
	for _, name := range []string{"😀.svg", "\u202egvs.svg", "日本語.svg", "\u2028.svg", strings.Repeat("W", 200)} {
		v, req, _ := planned(t, "card-220-a4", 1)
		req.Stock.Name = name
		var b bytes.Buffer
		if err := v.Worksheet(t.Context(), &b, view.About{Plan: "p", Drawing: name, Reference: name, Request: req}); err != nil || b.Len() < 1000 {
			t.Errorf("%q: %v, %d bytes", name, err, b.Len())
		}
	}
}
