package svg_test

import (
	"bytes"
	"math"
	"os/exec"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
)

func label() svg.Document {
	slot, _ := geometry.ParsePathData("M40 20H100A10 10 0 0 1 100 40H40A10 10 0 0 1 40 20Z")
	wave, _ := geometry.ParsePathData("M20 60C40 90 60 30 80 60S120 90 140 60")
	return svg.Document{Title: "Label <1>", Width: 180, Height: 120, Layers: []svg.Layer{
		{Name: "Cut", Colour: drawing.Colour{R: 200}, Paths: append(slot, geometry.Circle(geometry.Pt(150, 100), 12))},
		{Name: "Score & fold", Colour: drawing.Colour{B: 200}, StrokeWidth: 0.5, Paths: wave},
		{Name: "Cut", Colour: drawing.Colour{G: 128}, Paths: []geometry.Path{geometry.Box{Max: geometry.Pt(180, 120)}.Path()}},
	}}
}

func TestWriteReadsBack(t *testing.T) {
	doc := label()
	again(t, doc)
	var file bytes.Buffer
	if err := svg.Write(&file, doc); err != nil {
		t.Fatal(err)
	}
	d := read(t, file.String(), svg.Options{})
	if !d.Unit.Declared || math.Abs(d.Page.Width()*d.Unit.MM-180) > 1e-9 || math.Abs(d.Page.Height()*d.Unit.MM-120) > 1e-9 {
		t.Errorf("page %v, unit %+v", d.Page, d.Unit)
	}
	var names []string
	for _, l := range d.Layers {
		names = append(names, l.Name)
	}
	if got := strings.Join(names, ", "); got != "Cut, Score & fold" {
		t.Errorf("layers %s", got)
	}
	if s := d.Shapes[2]; s.Stroke.String() != "#0000c8" || s.Fill != nil || math.Abs(s.StrokeWidth*d.Unit.MM-0.5) > 1e-9 {
		t.Errorf("the wave came back as %+v", s)
	}
}

func TestWriteRefusesNonsense(t *testing.T) {
	bad := geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(math.NaN(), 1))
	for _, doc := range []svg.Document{
		{}, {Width: 10, Height: -1}, {Width: math.Inf(1), Height: 1},
		{Width: 10, Height: 10, Layers: []svg.Layer{{Paths: []geometry.Path{bad}}}},
	} {
		if err := svg.Write(&bytes.Buffer{}, doc); err == nil {
			t.Errorf("%+v was written", doc)
		}
	}
}

// The written file has its true size in an independent program: a point is
// 1/72 inch, so 180 by 120 mm are 510.236 by 340.157 pt.
func TestWriteIsTrueSizeElsewhere(t *testing.T) {
	rsvg := reference.Tool(t, "rsvg-convert")
	var file bytes.Buffer
	if err := svg.Write(&file, label()); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(rsvg, "-f", "ps")
	cmd.Stdin = &file
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(out, []byte("%%BoundingBox: ")) {
		t.Fatalf("%.400s", out)
	}
	_, rest, _ := strings.Cut(string(out), "%%DocumentMedia: ")
	if media, _, _ := strings.Cut(rest, "\n"); !strings.Contains(media, "510 340") && !strings.Contains(media, "511 341") {
		t.Errorf("media %q", media)
	}
}
