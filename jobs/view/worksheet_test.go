package view_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// The pass table is the plan's, cell by cell: what is set at the machine stands
// under its own title, and a setting that nobody tested says so.
func TestWorksheetsPassTable(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		tested := false
		for i := range p.Passes.Loads {
			for k := range p.Passes.Loads[i].Passes {
				if s := &p.Passes.Loads[i].Passes[k].Setting; k%2 == 1 {
					s.TestedBy, s.TestedOn, tested = "Ada", "2030-04-0"+fmt.Sprint(k), true
				}
			}
		}
		var want [][]string
		for _, load := range p.Passes.Loads {
			for _, pass := range load.Passes {
				s := pass.Setting
				state := "start point: test first"
				if s.TestedBy != "" {
					state = "tested by " + s.TestedBy + ", " + s.TestedOn
				}
				want = append(want, []string{
					fmt.Sprint(load.Number), fmt.Sprint(pass.Number), strings.ReplaceAll(string(pass.Operation), "_", " "), toolOf(pass.Operation, s),
					fmt.Sprint(s.ForceGF), fmt.Sprint(s.SpeedMMS), fmt.Sprint(s.Passes), fmt.Sprint(math.Round(pass.CutMM)), state,
				})
			}
		}
		got := printOf(t, p).table(t, "load", "pass", "operation", "tool", "gf", "mm/s", "times", "mm cut", "setting")
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", b.name, diff)
		}
		if tested != (len(b.passes) > 1) {
			t.Errorf("%s: nothing was tested", b.name)
		}
	}
}

// toolOf names the tools of the workshops in these tests: the settings of heavy
// card and sheet need the blade of 60°, the others the one of 45°. The blade of the
// cut scores too.
func toolOf(op artwork.Operation, s workshop.Setting) string {
	switch {
	case op == artwork.Pen:
		return "pen"
	case s.BladeID == "heavy-60" || op == artwork.Score && s.Family == workshop.HeavyCard:
		return "blade 60°, 0.5 mm offset"
	}
	return "blade 45°, 0.25 mm offset"
}

// A blade that the machine lacks is not passed off as another.
func TestWorksheetOfAMissingBlade(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	p.Passes.Loads[0].Passes[0].Setting.BladeID = "odd-30"
	row := printOf(t, p).table(t, "load", "pass", "operation", "tool", "gf", "mm/s", "times", "mm cut", "setting")[0]
	if row[3] != "blade odd-30 (not here)" {
		t.Errorf("the tool is %q", row[3])
	}
}

// More passes than the page has room for are counted.
func TestWorksheetSaysHowManyPassesItLeavesOut(t *testing.T) {
	p := planIn(t, neutral(), worked, plan.Choices{Stock: "card-160-a4", Copies: 31})
	page := printOf(t, p)
	rows := page.table(t, "load", "pass", "operation", "tool", "gf", "mm/s", "times", "mm cut", "setting")
	all := 4 * len(p.Passes.Loads)
	if len(rows) != 10 || all <= 10 || !strings.Contains(page.text(), fmt.Sprintf("and %d more", all-10)) {
		t.Errorf("%d of %d passes:\n%s", len(rows), all, page.text())
	}
}

// The facts are those of the plan, each beside its label.
func TestWorksheetsFacts(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		page := printOf(t, p)
		e, u := p.Estimate, p.Layout.Usage
		round := func(v ...float64) (all []float64) {
			for _, one := range v {
				all = append(all, math.RoundToEven(one))
			}
			return all
		}
		issue := []float64{float64(len(p.Layout.Loads))}
		if p.request.Stock.Form == workshop.Roll {
			issue = []float64{u.RollMM}
			if u.TapeM > 0 {
				issue = append(issue, math.Round(u.TapeM*100)/100)
			}
		}
		for label, want := range map[string][]float64{
			"Size":  {80, 50, float64(b.choices.Copies), float64(b.loads)},
			"Issue": issue,
			"Time":  round(e.CutterMin.Likely, e.CutterMin.Low, e.CutterMin.High, e.BenchMin.Likely, e.BenchMin.Low, e.BenchMin.High),
		} {
			if diff := cmp.Diff(want, numbers(page.fact(t, label))); diff != "" {
				t.Errorf("%s, %s: %s", b.name, label, diff)
			}
		}
		if got := page.fact(t, "Stock"); got != p.request.Stock.Name {
			t.Errorf("%s: stock %q", b.name, got)
		}
		if got := page.fact(t, "Machine"); !strings.HasPrefix(got, p.request.Machine.Name) {
			t.Errorf("%s: machine %q", b.name, got)
		}
		onMat := strings.Contains(page.fact(t, "Hold"), "mat of "+string(p.request.Stock.MatTack)+" tack")
		if want := p.request.Stock.Hold == workshop.Mat; onMat != want || strings.Contains(page.text(), "Both rollers") == want {
			t.Errorf("%s is held otherwise:\n%s", b.name, page.text())
		}
		for _, want := range []string{"Worksheet", "plan b2c1", "6 May 2030", "plate.svg, bay 4"} {
			if !strings.Contains(page.text(), want) {
				t.Errorf("%s: the page lacks %q:\n%s", b.name, want, page.text())
			}
		}
	}
}

// The worksheet speaks of mirroring exactly where the layout is mirrored.
func TestWorksheetSaysMirroredWhereItIs(t *testing.T) {
	for _, b := range benches() {
		text := printOf(t, b.plan(t)).text()
		if got := strings.Contains(strings.ToLower(text), "mirrored"); got != b.mirrored {
			t.Errorf("%s: says mirrored %v, want %v:\n%s", b.name, got, b.mirrored, text)
		}
	}
}

// The picture on the worksheet is the weeding map that the service shows, to
// the pixel, as an independent program takes it out.
func TestWorksheetHasTheWeedingMap(t *testing.T) {
	tool := reference.Tool(t, "pdfimages")
	for _, b := range benches() {
		p := b.plan(t)
		shown, err := view.DrawWeeding(t.Context(), p.Results, 1)
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := shown.PNG(t.Context(), 2)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		cmd := exec.Command(tool, "-png", "-", filepath.Join(dir, "map"))
		cmd.Stdin = bytes.NewReader(printOf(t, p).file)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		file, err := os.ReadFile(filepath.Join(dir, "map-000.png"))
		if err != nil {
			t.Fatalf("%s: no picture on the page: %v", b.name, err)
		}
		if n := differing(t, file, drawn); n != 0 {
			t.Errorf("%s: the map differs from the one shown in %d pixels", b.name, n)
		}
	}
}

// differing counts the pixels in which two PNGs differ, in no more than 8 bits.
func differing(t *testing.T, a, b []byte) int {
	t.Helper()
	var two [2]image.Image
	for i, file := range [][]byte{a, b} {
		m, err := png.Decode(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		two[i] = m
	}
	box := two[0].Bounds()
	if box != two[1].Bounds() {
		t.Fatalf("%v and %v", box, two[1].Bounds())
	}
	n := 0
	for y := range box.Max.Y {
		for x := range box.Max.X {
			r, g, b, _ := two[0].At(x, y).RGBA()
			r2, g2, b2, _ := two[1].At(x, y).RGBA()
			if r>>8 != r2>>8 || g>>8 != g2>>8 || b>>8 != b2>>8 {
				n++
			}
		}
	}
	return n
}

// The test cut is described by what the stock is: a liner only where there is
// one.
func TestWorksheetsTestCutByMaterial(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		text, liner := printOf(t, p).text(), b.passes[0] == artwork.KissCut
		if got := strings.Contains(text, "liner marked"); got != liner {
			t.Errorf("%s: says that the liner is marked %v, has a liner %v", b.name, got, liner)
		}
		if got := strings.Contains(text, "falls out without fibres"); got == liner {
			t.Errorf("%s: says that it falls out %v, has a liner %v", b.name, got, liner)
		}
	}
}
