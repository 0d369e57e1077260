package local_test

import (
	"bytes"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/view/starter"
	"knifedesk/jobs/workshop"
)

var everyProgram = flag.Bool("every-program", false, "have the programs save starter files that take seconds for it, too")

// savers are the programs that CI has.
var savers = [...]string{"rsvg-convert", "pdftocairo", "gs", "ogr2ogr"}

// drawnOn is the work that is drawn on each layer, in mm from the lower left corner of
// the frame: a card with an eye, folded once, with a mark of the pen.
var drawnOn = map[string][]geometry.Path{
	"CUT":  {geometry.Box{Min: geometry.Pt(30, 40), Max: geometry.Pt(150, 120)}.Path(), geometry.Polygon(geometry.Pt(50, 60), geometry.Pt(70, 60), geometry.Pt(60, 80)), geometry.Circle(geometry.Pt(60, 100), 9)},
	"FOLD": {geometry.Polyline(geometry.Pt(100, 40), geometry.Pt(100, 120))},
	"PEN":  {geometry.Polyline(geometry.Pt(120, 70), geometry.Pt(140, 70))},
}

// drawnFiles writes the starter file of a card with work drawn in it, as both formats.
func drawnFiles(t *testing.T, data *workshop.Data, folder string) {
	t.Helper()
	s, _ := data.Stock("card-220-a4")
	file, err := starter.New(&s, &data.Conventions[0], s.WidthMM, s.LengthMM)
	if err != nil {
		t.Fatal(err)
	}
	for i := range file.Layers {
		l := &file.Layers[i]
		l.Paths = append(l.Paths, drawnOn[l.Name]...)
	}
	for name, write := range map[string]func(*layered.File, *bytes.Buffer) error{
		"drawn.svg": func(f *layered.File, b *bytes.Buffer) error { return f.WriteSVG(b) },
		"drawn.dxf": func(f *layered.File, b *bytes.Buffer) error { return f.WriteDXF(b) },
	} {
		var b bytes.Buffer
		if err := write(file, &b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Whatever program has opened and saved a starter file, what is drawn in it is planned at
// its true size and with its operations, and nothing is asked. The table is printed by
//
//	go test ./jobs/local -run TestStarterFilesThroughPrograms -every-program -v
//
// Source: the lengths that were drawn; 0.02 mm are the hundredths of a point to which PDF
// writers round.
func TestStarterFilesThroughPrograms(t *testing.T) {
	for _, tool := range savers {
		if _, err := exec.LookPath(tool); err != nil {
			reference.Skip(t, "%s is not installed: starter files are not saved by other programs (bash .ci/install)", tool)
		}
	}
	folder, data := t.TempDir(), workshop.Example()
	drawnFiles(t, &data, folder)
	args := []string{"../../.ci/starters", folder}
	if *everyProgram {
		args = append(args, "all")
	}
	out, err := exec.CommandContext(t.Context(), "bash", args...).CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Fatal(err)
	}
	list, err := os.ReadFile(filepath.Join(folder, "saved.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace("drawn.svg\tas it was begun, SVG\tkept\ndrawn.dxf\tas it was begun, DXF\tkept\n"+string(list)), "\n")
	if len(rows) < 9 {
		t.Errorf("only %d files were saved", len(rows))
	}
	for _, row := range rows {
		f := strings.Split(row, "\t")
		text, err := os.ReadFile(filepath.Join(folder, f[0]))
		if err != nil {
			t.Fatal(err)
		}
		got := desk{data, plan.Choices{Stock: "card-220-a4"}}.run(t, string(text))
		if f[2] == "kept" {
			plannedAsDrawn(t, f[1], got)
		} else if t.Logf("%-34s asks %d questions", f[1], len(got.questions)); len(got.questions) == 0 {
			t.Errorf("%s changed the size, and nothing is asked:%s", f[1], got)
		}
	}
}

func plannedAsDrawn(t *testing.T, program string, got run) {
	t.Helper()
	if len(got.questions) > 0 || got.last != "" {
		t.Errorf("%-34s asks or is refused:%s", program, got)
		return
	}
	const slack = 0.02
	art, measured := got.results[artwork.Name].(*artwork.Artwork), got.results[size.Name].(*size.Result)
	lengths := map[artwork.Operation]float64{}
	for _, s := range art.Strokes {
		lengths[s.Operation] += s.Path.Length()
	}
	w, h := art.Bounds.Width(), art.Bounds.Height()
	t.Logf("%-34s %.3f × %.3f mm, cut %.2f, score %.2f, pen %.2f mm (%s)", program, w, h,
		lengths[artwork.ThroughCut], lengths[artwork.Score], lengths[artwork.Pen], measured.Cause)
	want := map[artwork.Operation]float64{artwork.ThroughCut: 2*(120+80) + 20 + 2*math.Hypot(10, 20) + 18*math.Pi, artwork.Score: 80, artwork.Pen: 20}
	if math.Abs(w-120) > slack || math.Abs(h-80) > slack {
		t.Errorf("%s: %.3f × %.3f mm", program, w, h)
	}
	for op, mm := range want {
		if math.Abs(lengths[op]-mm) > 4*slack {
			t.Errorf("%s: %.2f mm of %s, %.2f are drawn", program, lengths[op], op, mm)
		}
	}
}
