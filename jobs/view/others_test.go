package view_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// carried is a plan of card with a line for every operation, its files written
// with the offset of the knife, and the lines of its first load as our own reader
// sees them.
func carried(t *testing.T) (*planned, []cutPass) {
	t.Helper()
	b := benches()[0]
	choices := b.choices
	choices.Copies = 2
	p := planIn(t, offsetIn(b.shop(), 0.5), b.file, choices)
	return p, readDXF(t, fileOf(t, p, view.AllPasses, view.DXF))
}

func fileOf(t *testing.T, p *planned, pass int, format view.Format) []byte {
	t.Helper()
	return loadFile(t, p, 1, pass, format)
}

func loadFile(t *testing.T, p *planned, load, pass int, format view.Format) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := p.WriteLoad(t.Context(), &file, load, pass, format); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func sizes(lines []geometry.Path) (length float64, box geometry.Box) {
	box = geometry.EmptyBox()
	for _, l := range lines {
		length, box = length+l.Length(), box.Union(l.Bounds())
	}
	return length, box
}

// GDAL finds the same layers in their order, and in each as many lines of the same
// length and box. It draws arcs by chords, here of half a degree.
func TestGDALReadsTheFile(t *testing.T) {
	p, want := carried(t)
	in := filepath.Join(t.TempDir(), "load.dxf")
	if err := os.WriteFile(in, fileOf(t, p, view.AllPasses, view.DXF), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(reference.Tool(t, "ogr2ogr"), "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", "/vsistdout/", in)
	cmd.Env = append(os.Environ(), "OGR_ARC_STEPSIZE=0.5")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var read struct {
		Features []struct {
			Properties struct{ Layer string }
			Geometry   struct {
				Type        string
				Coordinates json.RawMessage
			}
		}
	}
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	var got []cutPass
	for _, f := range read.Features {
		if n := len(got); n == 0 || got[n-1].name != f.Properties.Layer {
			got = append(got, cutPass{name: f.Properties.Layer})
		}
		coordinates := []byte(f.Geometry.Coordinates)
		if f.Geometry.Type == "Polygon" {
			coordinates = bytes.TrimSuffix(bytes.TrimPrefix(bytes.TrimSpace(coordinates), []byte("[")), []byte("]"))
		}
		var at [][]float64
		if err := json.Unmarshal(coordinates, &at); err != nil {
			t.Fatalf("%s: %v", f.Geometry.Type, err)
		}
		pts := make([]geometry.Point, len(at))
		for i, q := range at {
			pts[i] = geometry.Pt(q[0], q[1])
		}
		last := &got[len(got)-1]
		last.lines = append(last.lines, geometry.Polyline(pts...))
	}
	if len(got) != len(want) {
		t.Fatalf("%d layers, want %d", len(got), len(want))
	}
	for i, w := range want {
		wantMM, wantBox := sizes(w.lines)
		mm, box := sizes(got[i].lines)
		if got[i].name != w.name || len(got[i].lines) != len(w.lines) || math.Abs(mm-wantMM) > 1e-4*wantMM || box.Min.Dist(wantBox.Min)+box.Max.Dist(wantBox.Max) > 0.002 {
			t.Errorf("layer %s: %d lines of %g mm in %v, want %s: %d of %g in %v", got[i].name, len(got[i].lines), mm, box, w.name, len(w.lines), wantMM, wantBox)
		}
	}
}

// hp2xx draws the plotter file with the same length and the same box, which it
// moves to the corner. It writes points, 72 to the inch.
func TestHp2xxReadsTheFile(t *testing.T) {
	p, want := carried(t)
	got := byHp2xx(t, fileOf(t, p, view.AllPasses, view.Plt))
	var all []geometry.Path
	for _, w := range want {
		all = append(all, w.lines...)
	}
	wantMM, wantBox := sizes(all)
	mm, box := sizes(got)
	if math.Abs(mm-wantMM) > 0.01*wantMM || math.Abs(box.Width()-wantBox.Width()) > 0.06 || math.Abs(box.Height()-wantBox.Height()) > 0.06 {
		t.Errorf("%g mm in %v, want %g in %v", mm, box, wantMM, wantBox)
	}
}

// byHp2xx returns the lines that hp2xx draws of a plotter file, in mm.
func byHp2xx(t *testing.T, file []byte) []geometry.Path {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "load.plt"), filepath.Join(dir, "load.svg")
	if err := os.WriteFile(in, file, 0o600); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command(reference.Tool(t, "hp2xx"), "-q", "-t", "-m", "svg", "-f", out, in).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, msg)
	}
	drawn, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var got []geometry.Path
	for _, m := range regexp.MustCompile(`\sd="([^"]*)"`).FindAllSubmatch(drawn, -1) {
		for _, q := range parsed(t, string(m[1])) {
			got = append(got, q.Transform(geometry.Scale(25.4/72, 25.4/72)))
		}
	}
	return got
}

// librsvg draws a pass alone on the page of all, where it belongs: to a tenth of a
// mm, a dot of its picture.
func TestLibrsvgDrawsAPassAlone(t *testing.T) {
	p, want := carried(t)
	for i := range want {
		cmd := exec.Command(reference.Tool(t, "rsvg-convert"), "-d", "254", "-p", "254", "-b", "white")
		cmd.Stdin = bytes.NewReader(fileOf(t, p, i+1, view.SVG))
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		sheet := p.Layout.Loads[0]
		if w, h := drawn.Bounds().Dx(), drawn.Bounds().Dy(); math.Abs(float64(w)-10*sheet.WidthMM) > 1 || math.Abs(float64(h)-10*sheet.LengthMM) > 1 {
			t.Fatalf("the page has %d × %d dots of 0.1 mm", w, h)
		}
		ink := geometry.EmptyBox()
		for y := range drawn.Bounds().Dy() {
			for x := range drawn.Bounds().Dx() {
				if r, _, _, _ := drawn.At(x, y).RGBA(); r < 0xe000 {
					ink = ink.Include(geometry.Pt((float64(x)+0.5)/10, sheet.LengthMM-(float64(y)+0.5)/10))
				}
			}
		}
		if _, box := sizes(alone(t, p, i+1)); ink.Min.Dist(box.Min) > 0.3 || ink.Max.Dist(box.Max) > 0.3 {
			t.Errorf("pass %d: drawn in %v, want %v", i+1, ink, box)
		}
	}
}

// alone returns the lines of the file of one pass.
func alone(t *testing.T, p *planned, pass int) []geometry.Path {
	t.Helper()
	all := readSVG(t, fileOf(t, p, pass, view.SVG))
	if len(all) != 1 {
		t.Fatalf("%d layers", len(all))
	}
	return all[0].lines
}

// A pass alone begins with its lead-in and is cut as with the others.
func TestAPassAloneIsCutTrue(t *testing.T) {
	p, want := carried(t)
	for i, pass := range p.Passes.Loads[0].Passes {
		lines := alone(t, p, i+1)
		knife := knifeTip{pass.Rule.OffsetMM, 2}
		if pass.Rule.OffsetMM > 0 {
			checkLeadIn(t, want[i].name, p, 0, knife.cut(lines[0]))
			lines = lines[1:]
		}
		checkStrokes(t, want[i].name, tipMM(view.SVG), &knife, planOfLoad(t, p, 0)[i].lines, lines, pass)
	}
}

// blunt is the shop with a blunt tip for scores.
func blunt(shop workshop.Data) workshop.Data {
	for i := range shop.Settings {
		if shop.Settings[i].Operation == artwork.Score {
			shop.Settings[i].BladeID = "tip"
		}
	}
	for i := range shop.Machines {
		shop.Machines[i].Blades = append(shop.Machines[i].Blades, workshop.Blade{ID: "tip"})
	}
	return shop
}

// A pen and a blunt tip have no offset, no overcut and no lead-in: a square of 20 mm
// keeps its four corners and its 80 mm, whoever makes up for the knife.
func TestAPenDrawsTheBareLine(t *testing.T) {
	const square = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40" fill="none" stroke="#000">
<g id="CUT"><rect x="2" y="2" width="36" height="36"/></g><g id="PEN"><rect x="10" y="10" width="20" height="20"/></g><g id="FOLD"><path d="M5 35H35"/></g></svg>`
	for _, by := range []workshop.Compensation{workshop.CompensatesNothing, workshop.CompensatesOffset, workshop.CompensatesAll} {
		b := benches()[0]
		choices := b.choices
		choices.Copies = 1
		p := planIn(t, compensating(blunt(b.shop()), by), square, choices)
		for _, r := range readers() {
			for i, pass := range r.read(t, fileOf(t, p, view.AllPasses, r.format)) {
				op := p.Passes.Loads[0].Passes[i].Operation
				mm, _ := sizes(pass.lines)
				if want, is := map[string]float64{"pen": 80, "score": 30}[string(op)]; is && (len(pass.lines) != 1 || math.Abs(mm-want) > 1e-6) {
					t.Errorf("%s, %s by the machine: %s is %d lines of %g mm", r.name, by, op, len(pass.lines), mm)
				}
			}
		}
		checkSteps(t, p, by)
	}
}

// checkSteps holds what the operator of such a machine is told.
func checkSteps(t *testing.T, p *planned, by workshop.Compensation) {
	t.Helper()
	list, err := p.ListPasses(1)
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, line := range list.Passes {
		said = append(said, strings.Join(line.Steps, " "))
	}
	zero, back := strings.Contains(said[0], "Set the cutter's blade offset"), strings.Contains(said[len(said)-1], "blade offset to 0.25 mm")
	if want := by != workshop.CompensatesNothing; zero != want || back != want || strings.Contains(said[1], "blade offset") || strings.Contains(said[len(said)-1], "Leave any blade offset of the cutter at 0") == want {
		t.Errorf("%s by the machine: the operator is told\n%s", by, strings.Join(said, "\n"))
	}
	if want := map[bool]string{true: "offset 0.25 mm in file", false: "bare line"}[by == workshop.CompensatesNothing]; list.Carries != want {
		t.Errorf("%s by the machine: the file carries %q", by, list.Carries)
	}
}

// Files follow how the machine counts. By hand: the feed along +x from the right
// corner of the leading edge takes (x, y) to (y, W − x).
func TestFilesFollowTheMachinesAxes(t *testing.T) {
	for _, b := range benches()[:1] {
		shop := b.shop()
		for i := range shop.Machines {
			shop.Machines[i].Axes = workshop.Axes{Feed: workshop.PlusX, Origin: workshop.LeadRight}
		}
		p := planIn(t, shop, b.file, b.choices)
		turned := geometry.Affine{B: -1, C: 1, F: p.Layout.Loads[0].WidthMM}
		want := planOfLoad(t, p, 0)
		for i := range want {
			for k := range want[i].lines {
				want[i].lines[k] = want[i].lines[k].Transform(turned)
			}
		}
		for _, r := range readers() {
			checkPasses(t, fmt.Sprint("turned, ", r.name), r, want, r.read(t, fileOf(t, p, view.AllPasses, r.format)))
		}
	}
}
