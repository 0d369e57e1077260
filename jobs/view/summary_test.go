package view_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// A plate of 80 × 40 mm with a hole of 16 mm.
const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/><circle cx="30" cy="30" r="8"/></g></svg>`

// planned is a plan that was run.
type planned struct {
	*view.Results
	request *plan.Request
	status  plan.Status
	parts   []view.Part
}

// text is the plan as a summary for a shell.
func (p *planned) text() string {
	return view.Text(p.status, view.Gather(p.status, p.request, nil, p.parts), nil)
}

func planOf(t *testing.T, stock string, copies int) *planned {
	t.Helper()
	return planOfFile(t, plate, plan.Choices{Stock: stock, Copies: copies})
}

func planOfFile(t *testing.T, file string, choices plan.Choices) *planned {
	t.Helper()
	return planIn(t, workshop.Example(), file, choices)
}

func planIn(t *testing.T, shop workshop.Data, file string, choices plan.Choices) *planned {
	t.Helper()
	list := jobs.NewList()
	req, err := list.Choose(shop, choices)
	if err != nil {
		t.Fatal(err)
	}
	done, status, err := local.Run(t.Context(), list.Rows, []byte(file), req)
	if err != nil {
		t.Fatal(err)
	}
	results := local.Results(done)
	return &planned{list.Shown(results), req, status, list.Parts(results)}
}

func TestTextTellsThePlan(t *testing.T) {
	text := planOf(t, "film-removable-610", 4).text()
	for _, want := range []string{"ready", "80 × 40 mm", "1 piece stays; 1 counter comes out", "mm of roll", "kiss cut", "make this test cut first", "credit", "Local rules"} {
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
		status  plan.Status
		replies ask.Replies
	}{{plan.Asking, nil}, {plan.Refused, ask.Replies{"size/nested_scale": {Answer: "not_as_placed"}}}} {
		choices.Replies = tt.replies
		p := planOfFile(t, drawn, choices)
		text := p.text()
		asks := tt.status == plan.Asking
		if p.status != tt.status || strings.Contains(text, "\nasked ") != asks || strings.Contains(text, "\nquestion ") != asks ||
			strings.Contains(text, "Nothing in the drawing says how large it is") == asks {
			t.Errorf("%s, want %s:\n%s", p.status, tt.status, text)
		}
	}
}

// A plan that is refused at its passes, here for want of a setting, has
// pictures of all jobs before.
func TestPicturesOfAPlanWithoutPasses(t *testing.T) {
	shop := workshop.Example()
	shop.Settings = nil
	p := planIn(t, shop, plate, plan.Choices{Stock: "card-160-a4"})
	if p.status != plan.Refused {
		t.Errorf("the plan is %s", p.status)
	}
	for _, row := range jobs.NewList().Rows {
		if row.Draw == nil {
			continue
		}
		drawn, err := row.Draw(t.Context(), p.Results, 1)
		if want := row.Name != passes.Name; err != nil || (drawn != nil) != want {
			t.Errorf("%s: drawn %v, want %v, %v", row.Name, drawn != nil, want, err)
		}
	}
}

// The worksheet is an A4 page a load, by an independent reader.
func TestWorksheetHasAPageALoad(t *testing.T) {
	pdfinfo := reference.Tool(t, "pdfinfo")
	for _, stock := range []string{"film-removable-610", "card-160-a4"} {
		p := planOf(t, stock, 40)
		var first bytes.Buffer
		about := view.About{Plan: "b2c1", Reference: "bay 4", Request: p.request}
		if err := p.Worksheet(t.Context(), &first, about); err != nil {
			t.Fatal(err)
		}
		info := run(t, pdfinfo, first.Bytes(), "-")
		if want := fmt.Sprintf("Pages:           %d\n", len(p.Layout.Loads)); !strings.Contains(info, want) || !strings.Contains(info, "A4") {
			t.Errorf("%s, %s: %s", stock, want, info)
		}
	}
}

// The same plan gives the same bytes, whether its date is known or not.
func TestWorksheetsAreAlike(t *testing.T) {
	p := planOf(t, "card-160-a4", 2)
	for _, made := range []time.Time{{}, time.Date(2030, 5, 6, 7, 8, 9, 0, time.FixedZone("", 3600))} {
		about := view.About{Plan: "b2c1", Reference: "a\u00a0b -\u00ad", Made: made, Request: p.request}
		var first bytes.Buffer
		if err := p.Worksheet(t.Context(), &first, about); err != nil {
			t.Fatal(err)
		}
		for range 4 {
			var again bytes.Buffer
			if err := p.Worksheet(t.Context(), &again, about); err != nil || !bytes.Equal(again.Bytes(), first.Bytes()) {
				t.Errorf("made %v: another file, %v", made, err)
			}
			about.Made = about.Made.In(time.FixedZone("", 7200))
		}
		about.Plan = "b2c2"
		var other bytes.Buffer
		if err := p.Worksheet(t.Context(), &other, about); err != nil || bytes.Equal(other.Bytes(), first.Bytes()) {
			t.Errorf("made %v: another plan has the same file, %v", made, err)
		}
	}
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

// Names come from outside: what the sheet's letters cannot write falls back to what
// they can, and what is longer than the page is wide still gives a page.
func TestWorksheetOfOddNames(t *testing.T) {
	for _, name := range []string{"李 😀 Łukasz", "\u202egvs", "日本語", "\u2028", strings.Repeat("W", 200)} {
		p := planOf(t, "card-220-a4", 1)
		p.request.Stock.Name = name
		var b bytes.Buffer
		if err := p.Worksheet(t.Context(), &b, view.About{Plan: "b2c1-77", Reference: name, Request: p.request}); err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		text := readPrint(t, b.Bytes()).pages[0].raw
		if strings.Contains(text, "??") || !strings.Contains(name, "W") && (!strings.Contains(text, "card-220-a4") || !strings.Contains(text, "plan b2c1-77")) {
			t.Errorf("%q:\n%s", name, text)
		}
	}
}
