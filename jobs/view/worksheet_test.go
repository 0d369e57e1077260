package view_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// bladeOf names the blades of the workshops in these tests as they stand large on a
// worksheet: heavy card and sheet need the one of 60°, the others that of 45°. The blade of the
// cut scores too.
func bladeOf(op artwork.Operation, s workshop.Setting) string {
	switch {
	case op == artwork.Pen:
		return "pen"
	case s.BladeID == "heavy-60" || op == artwork.Score && s.Family == workshop.HeavyCard:
		return "60° heavy-60"
	}
	return "45° fine-45"
}

// Each load has a page that tells the work in the order in which it is done, by the
// order in which poppler finds the text written; each pass with what is set for it,
// and the change of the tool before it.
func TestWorksheetTellsTheWorkInOrder(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		pages := printOf(t, p).pages
		if len(pages) != len(p.Passes.Loads) {
			t.Errorf("%s: %d pages for %d loads", b.name, len(pages), len(p.Passes.Loads))
		}
		for i, load := range p.Passes.Loads {
			p.inOrder(t, b.name, pages[i].raw, i, workOf(p, load.Passes))
		}
	}
}

// inOrder looks for texts on a page, each after the one before.
func (p *planned) inOrder(t *testing.T, name, text string, load int, want []string) {
	t.Helper()
	rest := strings.Join(strings.Fields(text), " ")
	for _, w := range want {
		at := strings.Index(rest, w)
		if at < 0 {
			t.Errorf("%s, load %d: %q is missing after what stands before it:\n%s", name, load+1, w, text)
			return
		}
		rest = rest[at+len(w):]
	}
}

// workOf lists what a page has to tell of a load.
func workOf(p *planned, all []passes.Pass) []string {
	want := []string{"Worksheet", p.request.Stock.Name, "for bay 4", "plan b2c1", "1 Fetch", "Stock", "2 Load", "3 Test"}
	in := "" // the tool: a test cut is made with that of the last pass, before all passes
	if last := &all[len(all)-1]; last.Operation == artwork.ThroughCut || last.Operation == artwork.KissCut {
		in = last.Tool()
		want = append(want, "Put in: "+in)
	}
	want = append(want, "4 Cut")
	for i, pass := range all {
		if i > 0 && pass.Changed || i == 0 && in != "" && in != pass.Tool() {
			want = append(want, "Pause: take the tool out")
		}
		if i == 0 && in != pass.Tool() || i > 0 && pass.Changed {
			want = append(want, "Put in:")
		}
		s, test := pass.Setting, "test cut first"
		if pass.Operation == artwork.Pen {
			test = "draw in the waste first" // there is nothing to cut with it
		}
		want = append(want, fmt.Sprintf("%d %s untested: %s %s %v gf %v mm/s %d×", pass.Number, pass.Operation.Words(), test, bladeOf(pass.Operation, s), s.ForceGF, s.SpeedMMS, s.Passes))
	}
	return append(want, "5 Unload", "Before anything is moved lift one corner", "6 ", "Hand over", "measured", "Known of this drawing", "Cautions")
}

// A blade that the machine lacks is not passed off as another.
func TestWorksheetOfAMissingBlade(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	p.Passes.Loads[0].Passes[0].Setting.BladeID = "odd-30"
	if text := printOf(t, p).text(); !strings.Contains(text, "blade odd-30: not here") {
		t.Errorf("the sheet names another:\n%s", text)
	}
}

// The facts are those of the plan, each beside its label.
func TestWorksheetsFacts(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		page := printOf(t, p)
		e, u, stock := p.Estimate, p.Layout.Usage, p.request.Stock
		amount := []float64{1}
		if stock.Form == workshop.Roll {
			amount = []float64{p.Layout.Loads[0].LengthMM}
		}
		facts := map[string][]float64{"Stock": append(numbers(stock.Name), amount...)}
		if u.TapeM > 0 {
			facts["Tape"] = []float64{math.Round(u.TapeM*100) / 100, float64(u.TapePieces)}
		}
		for _, v := range []float64{e.CutterMin.Likely, e.CutterMin.Low, e.CutterMin.High, e.BenchMin.Likely, e.BenchMin.Low, e.BenchMin.High} {
			facts["Time"] = append(facts["Time"], math.RoundToEven(v))
		}
		for label, want := range facts {
			if diff := cmp.Diff(want, numbers(page.fact(t, label))); diff != "" {
				t.Errorf("%s, %s: %s", b.name, label, diff)
			}
		}
		if got := page.fact(t, "Machine"); !strings.HasPrefix(got, p.request.Machine.Name) {
			t.Errorf("%s: machine %q", b.name, got)
		}
		onMat := strings.Contains(page.fact(t, "Hold"), "of "+string(stock.MatTack)+" tack")
		if want := stock.Hold == workshop.Mat; onMat != want || strings.Contains(page.text(), "both rollers") == want {
			t.Errorf("%s is held otherwise:\n%s", b.name, page.text())
		}
		for _, want := range []string{"80 × 50 mm", "6 May 2030", "bay 4"} {
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

// The sheet is of lines and letters in grey: it has no image, and no ink whose red,
// green and blue differ.
func TestWorksheetIsGreyLines(t *testing.T) {
	for _, b := range benches() {
		file := printOf(t, b.plan(t)).file
		if list := run(t, reference.Tool(t, "pdfimages"), file, "-list", "-"); strings.Count(list, "\n") > 2 {
			t.Errorf("%s: there are images:\n%s", b.name, list)
		}
		if ink := coloured.FindString(pageOf(t, file)); ink != "" {
			t.Errorf("%s: an ink is not grey: %s", b.name, ink)
		}
	}
}

// coloured is an operator that sets red, green and blue: the library writes greys by
// operators of their own.
var coloured = regexp.MustCompile(`[\d.]+ [\d.]+ [\d.]+ (rg|RG)\b`)

// Blade, force and speed of each pass are read from a metre away: their digits are at
// least 5 mm high as an independent program prints them (ISO 9241-303 asks for 20
// minutes of arc for comfort, which is 5.8 mm with descenders at that distance).
func TestWorksheetsDigitsAreReadFromAMetre(t *testing.T) {
	b := benches()[0]
	p := b.plan(t)
	sheet := printOf(t, p)
	const dpi = 150
	out := run(t, reference.Tool(t, "pdftoppm"), sheet.file, "-r", fmt.Sprint(dpi), "-gray", "-png", "-f", "1", "-l", "1", "-")
	img, err := png.Decode(strings.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for i, w := range sheet.pages[0].words {
		unit := ""
		if i+1 < len(sheet.pages[0].words) {
			unit = sheet.pages[0].words[i+1].Text
		}
		if unit != "gf" && unit != "mm/s" && !strings.HasSuffix(w.Text, "°") {
			continue
		}
		seen++
		if high := inkHeight(img, w, dpi); high < 5 || high > 7 {
			t.Errorf("%q is %.2f mm high", w.Text, high)
		}
	}
	if want := 3*len(b.passes) - 1; seen != want { // a pen has no degrees
		t.Errorf("%d values stand large, want %d", seen, want)
	}
}

// inkHeight is how high the ink of a word is in mm, from its middle on to the first
// blank rows: lines may run past above and below.
func inkHeight(img image.Image, w word, dpi float64) float64 {
	k := dpi / 72
	inked := func(y int) bool {
		for x := int(w.X1*k) + 1; x < int(w.X2*k); x++ {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				return true
			}
		}
		return false
	}
	top := int((w.Y1 + w.Y2) / 2 * k)
	bottom := top
	for inked(top - 1) {
		top--
	}
	for inked(bottom) {
		bottom++
	}
	return float64(bottom-top) / dpi * 25.4
}

// The sheet hangs where everybody reads it: who tested a setting, what the file is
// called and what it costs are not on it.
func TestWorksheetNamesNobodyAndNoPrice(t *testing.T) {
	p := planOf(t, "card-160-a4", 2)
	for i := range p.Passes.Loads[0].Passes {
		s := &p.Passes.Loads[0].Passes[i].Setting
		s.TestedBy, s.TestedOn = "Ada", "2030-04-05"
		p.request.Standings[s.ID] = trial.Standing{State: trial.Tested, Last: s.TestedOn}
	}
	text := printOf(t, p).text()
	for _, not := range []string{"Ada", ".svg", p.Estimate.TotalText, "credit"} {
		if strings.Contains(text, not) {
			t.Errorf("the sheet has %q:\n%s", not, text)
		}
	}
	if !strings.Contains(text, "tested 2030-04-05") {
		t.Errorf("the sheet does not say that a setting was tested:\n%s", text)
	}
}

// Heat film is pressed by its data sheet: what the workshop entered is printed, and
// what it did not is left blank to be written in.
func TestWorksheetOfHeatFilm(t *testing.T) {
	p := planOf(t, "film-heat-500", 2)
	if text := printOf(t, p).pages[0].raw; !strings.Contains(text, "_____ °C for _____ s") || !strings.Contains(text, "□ hot □ warm □ cold") {
		t.Errorf("no room to write:\n%s", text)
	}
	p.request.Stock.Press = &workshop.Press{TemperatureC: 150, Seconds: 12, Pressure: "medium", Peel: workshop.PeelWarm}
	p.inOrder(t, "heat film", printOf(t, p).pages[0].raw, 0, []string{"Press", "150 °C for 12 s", "medium", "warm", "Hand over"})
}

// A map whose numbers have no room on the page stands on a page of its own.
func TestWorksheetsCrowdedMap(t *testing.T) {
	var rings strings.Builder
	for i := range 150 {
		fmt.Fprintf(&rings, `<circle cx="%d" cy="%d" r="2.6"/>`, 20+i%15*12, 20+i/15*12)
	}
	file := `<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="150mm" viewBox="0 0 210 150"><g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="190" height="130"/>` + rings.String() + `</g></svg>`
	p := planOfFile(t, file, plan.Choices{Stock: "film-removable-610"})
	pages := printOf(t, p).pages
	if len(pages) < 2 || !strings.Contains(pages[0].raw, "by the map on the next page") || !strings.Contains(pages[1].raw, "Weeding map") {
		t.Errorf("%d pages:\n%s", len(pages), pages[0].raw)
	}
}

// What was answered stands on the sheet, with its reason.
func TestWorksheetTellsAnswers(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	p.request.Replies = ask.Replies{"weeding/stroke": {Answer: "cut_anyway", Reason: "tried on a scrap"}, "size/true_size": {Answer: "width", MM: 80}}
	p.inOrder(t, "answers", printOf(t, p).pages[0].raw, 0, []string{"Known of this drawing", "asked, true size: width, 80 mm", "asked, stroke: cut anyway, because: tried on a scrap"})
}

// The square code leads to the plan; without an address there is none.
func TestWorksheetsCode(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	var with, without bytes.Buffer
	for b, link := range map[*bytes.Buffer]string{&with: "https://cutters.example/#b2c1", &without: ""} {
		if err := p.Worksheet(t.Context(), b, view.About{Plan: "b2c1", Link: link, Request: p.request}); err != nil {
			t.Fatal(err)
		}
	}
	// A code of ISO/IEC 18004 has three finder patterns of 7 × 7 modules.
	finders := func(file []byte) int {
		return len(regexp.MustCompile(`(?m)^[\d.]+ [\d.]+ [\d.]+ -[\d.]+ re f$`).FindAllString(pageOf(t, file), -1))
	}
	if finders(without.Bytes()) != 0 || finders(with.Bytes()) < 200 {
		t.Errorf("%d and %d modules", finders(without.Bytes()), finders(with.Bytes()))
	}
}

// The test cut is described by what the stock is: a liner only where there is
// one.
func TestWorksheetsTestCutByMaterial(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		text, liner := printOf(t, p).text(), b.passes[0] == artwork.KissCut
		if got := strings.Contains(text, "liner is marked"); got != liner {
			t.Errorf("%s: says that the liner is marked %v, has a liner %v", b.name, got, liner)
		}
		if got := strings.Contains(text, "falls out without fibres"); got == liner {
			t.Errorf("%s: says that it falls out %v, has a liner %v", b.name, got, liner)
		}
	}
}

// Where there are several loads, worksheet and summary say what each takes.
func TestMinutesOfEachLoadAreTold(t *testing.T) {
	b := benches()[0]
	p := b.plan(t)
	summary := p.text()
	for i, page := range printOf(t, p).pages {
		l := p.Estimate.Loads[i]
		cutter := l.Cutter()
		want := fmt.Sprintf("cutter %.0f min (%.0f to %.0f), bench %.0f min", cutter.Likely, cutter.Low, cutter.High, l.Bench.Likely)
		if text := strings.Join(strings.Fields(page.raw), " "); !strings.Contains(text, "this load: "+want) {
			t.Errorf("page %d does not say %q", i+1, want)
		}
		if !strings.Contains(summary, fmt.Sprintf("load %d: %s", i+1, want)) {
			t.Errorf("the summary does not say %q:\n%s", want, summary)
		}
	}
}
