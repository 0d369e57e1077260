package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// The files of a load say what they carry: by their names, and in the list of the
// passes, which names the blade of each. A pass alone has the page of all.
func TestFilesSayWhatTheyCarry(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-160-a4", "copies", "2")
	base := p.Links["self"] + "/files/"
	whole := d.call(t, http.MethodGet, p.Links["load_1_svg"], nil)
	if got := whole.header.Get("Content-Disposition"); !strings.Contains(got, "load-1_offset-0.25-mm-in-file.svg") {
		t.Errorf("the file is offered as %q", got)
	}
	var list api.PassList
	d.call(t, http.MethodGet, base+"load-1.json", nil).json(t, &list)
	last := list.Passes[len(list.Passes)-1]
	if list.Carries != "offset 0.25 mm in file" || last.Blade != "fine-45" || last.OffsetMM != 0.25 || last.Layer != fmt.Sprintf("%02d_through_cut", last.Number) || len(last.Steps) == 0 {
		t.Errorf("list %+v", list)
	}
	text := d.call(t, http.MethodGet, p.Links["load_1_txt"], nil)
	if text.status != http.StatusOK || !strings.Contains(string(text.body), "blade fine-45, offset 0.25 mm") {
		t.Errorf("%d: %s", text.status, text.body)
	}
	view := func(a answer) string { _, rest, _ := strings.Cut(string(a.body), "viewBox="); return rest[:20] }
	alone := d.call(t, http.MethodGet, base+fmt.Sprintf("load-1-pass-%d.svg", last.Number), nil)
	if alone.status != http.StatusOK || view(alone) != view(whole) || strings.Count(string(alone.body), "<g ") != 1 {
		t.Errorf("a pass alone: %d, %.300s", alone.status, alone.body)
	}
	for _, none := range []string{"load-1-pass-9.dxf", "load-2.json", "load-9.txt"} {
		if a := d.call(t, http.MethodGet, base+none, nil); a.status != http.StatusNotFound {
			t.Errorf("%s: %d", none, a.status)
		}
	}
}

// A machine of which nobody said what it makes up for is asked about, once, and
// there is nothing to cut from before: done twice it spoils every corner.
func TestTheMachineIsAskedAbout(t *testing.T) {
	d := openEmpty(t, api.Config{})
	d.seed(t, workshop.Neutral())
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-160-a4", "frame", "none")
	if p.Status != "asking" || len(p.Questions) != 1 || p.Questions[0].ID != passes.QuestionCompensation {
		t.Fatalf("%s, questions %+v", p.Status, p.Questions)
	}
	if _, linked := p.Links["load_1_dxf"]; linked {
		t.Error("files are linked before the answer")
	}
	for _, part := range []string{"/files/load-1.dxf", "/files/load-1.json", "/worksheet.pdf"} {
		if a := d.call(t, http.MethodGet, p.Links["self"]+part, nil); a.status != http.StatusConflict {
			t.Errorf("%s: %d", part, a.status)
		}
	}
	got := d.submit(t, "plate.svg", []byte(plate), "stock", "card-160-a4", "frame", "none", "answer", passes.QuestionCompensation+"=offset_and_overcut")
	if got.Status != "ready" {
		t.Fatalf("%s, questions %+v", got.Status, got.Questions)
	}
	a := d.call(t, http.MethodGet, got.Links["load_1_dxf"], nil)
	if name := a.header.Get("Content-Disposition"); !strings.Contains(name, "load-1_bare-line.dxf") {
		t.Errorf("the file is offered as %q", name)
	}
}
