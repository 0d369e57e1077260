package picture_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

// The picture of a drawing lists its layers, each with the lines that it is drawn with:
// no two alike, also without their colour.
func TestDrawingKeysItsLayers(t *testing.T) {
	p := must(planOf([]byte(drawingOf(200, 160, boxNet())), plan.Choices{Stock: "card-160-a3", Size: plan.Size{Frame: "none", Unit: "mm"}}))
	all := parse(t, svgOf(t, must(picture.Drawing(t.Context(), &p.drawing))))
	legend := texts(all, "legend")
	for _, want := range []string{"layer CUT: 1 shape", "layer FOLD: 4 shapes", "layer PERFORATE: 1 shape", "layer PEN: 1 shape"} {
		if !slices.Contains(legend, want) {
			t.Errorf("no %q in %q", want, legend)
		}
	}
	dashes := map[string]bool{}
	for _, e := range all {
		if e.zone == "legend" && e.name == "path" && e.attrs["stroke"] == "#007c91" {
			dashes[e.attrs["stroke-dasharray"]+e.attrs["stroke-width"]] = true
		}
	}
	if len(dashes) != 4 {
		t.Errorf("four layers have %d kinds of lines: %v", len(dashes), dashes)
	}
}

// Lines keep their colours where these can be seen on white paper and get another ink
// where not: yellow, light grey. Source: the contrast of WCAG 2.2; 1.3 is common practice.
func TestDrawnLinesAreSeen(t *testing.T) {
	white := linear(t, "#ffffff")
	for colour, keeps := range map[string]bool{
		"#000000": true, "#ff0000": true, "#0000ff": true, "#ff00ff": true, "#00ff00": true, "#808080": true, "#c0c0c0": true, "#ff8080": true, "#80a0ff": true, "#0af50a": true,
		"#ffff00": false, "#ffffff": false, "#f0f0f0": false, "#ffffb0": false, "#e0f8ff": false, "#00ffff": false,
	} {
		d := drawing.Drawing{Unit: drawing.Unit{Name: "mm", MM: 1, Declared: true}}
		var c drawing.Colour
		if _, err := fmt.Sscanf(colour, "#%02x%02x%02x", &c.R, &c.G, &c.B); err != nil {
			t.Fatal(err)
		}
		d.Shapes = []drawing.Shape{{Layer: "CUT", Stroke: &c, Paths: []geometry.Path{geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(90, 0), geometry.Pt(90, 60))}}}
		drawn := 0
		for _, e := range parse(t, svgOf(t, must(picture.Drawing(t.Context(), &read.Result{Drawing: d})))) {
			ink := e.attrs["stroke"]
			if e.name != "path" || e.zone != "drawing" || ink == "" || ink == "none" {
				continue
			}
			drawn++
			if (ink == colour) != keeps || contrast(linear(t, ink), white) < 1.3 {
				t.Errorf("%s is drawn as %s, with a contrast of %.2f; it keeps its colour: %v", colour, ink, contrast(linear(t, ink), white), keeps)
			}
		}
		if drawn == 0 {
			t.Errorf("%s is not drawn", colour)
		}
	}
}

// A drawing is measured in the numbers that stand in its file, whatever it is read in:
// 200 × 160 in a view box of mm on a page of 200 × 160 mm, and inches where it says so.
func TestDrawingNamesItsOwnUnit(t *testing.T) {
	p := must(planOf([]byte(drawingOf(200, 160, "M0 0h200v160h-200z")), plan.Choices{Stock: "film-removable-610", Size: plan.Size{Frame: "none", Unit: "mm"}}))
	inches := p.drawing
	inches.Unit = drawing.Unit{Name: "inch", MM: 25.4, Declared: true}
	silent := p.drawing
	silent.Unit = drawing.Unit{Name: "none", MM: 1}
	for name, c := range map[string]struct {
		of   *read.Result
		want []string
		is   string // what one of the drawing's own numbers is where a unit of it, in the view box 96 to an inch, is 2 mm
	}{
		"view box": {&p.drawing, []string{"200 × 160 in the file's own numbers", "each 1 mm as the file says"}, "1 in the file's own numbers is 7.55906 mm."},
		"inches":   {&inches, []string{" inch, as the file says"}, "1 inch of the file is 2 mm."},
		"silent":   {&silent, []string{"in the file's own numbers; it names no unit"}, "one drawing unit is 2 mm."},
	} {
		all := parse(t, svgOf(t, must(picture.Drawing(figure.Onto(t.Context(), figure.Screen(1000)), c.of))))
		head := strings.Join(texts(all, "head"), " ")
		for _, want := range c.want {
			if !strings.Contains(head, want) {
				t.Errorf("%s: %q does not say %q", name, head, want)
			}
		}
		settled := size.Result{X: 2, Y: 2, WidthMM: 400, HeightMM: 320, Transform: geometry.Scale(2, 2)}
		all = parse(t, svgOf(t, must(picture.Size(figure.Onto(t.Context(), figure.Screen(1000)), c.of, &settled))))
		if head := strings.Join(texts(all, "head"), " "); !strings.Contains(head, "400 × 320 mm") || !strings.Contains(head, c.is) {
			t.Errorf("%s: %q does not say %q", name, head, c.is)
		}
		all = parse(t, svgOf(t, must(picture.Drawing(figure.Onto(t.Context(), figure.Screen(1000)), c.of))))
		if marks := texts(all, "marks"); name == "view box" && !slices.Equal(marks, []string{"200", "160"}) {
			t.Errorf("the dimensions are %q", marks)
		}
	}
}
