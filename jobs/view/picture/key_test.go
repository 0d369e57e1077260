package picture_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
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
	}{
		"view box": {&p.drawing, []string{"200 × 160 in the file's own numbers", "each 1 mm as the file says"}},
		"inches":   {&inches, []string{" inch, as the file says"}},
		"silent":   {&silent, []string{"in the file's own numbers; it names no unit"}},
	} {
		all := parse(t, svgOf(t, must(picture.Drawing(figure.Onto(t.Context(), figure.Screen(1000)), c.of))))
		head := strings.Join(texts(all, "head"), " ")
		for _, want := range c.want {
			if !strings.Contains(head, want) {
				t.Errorf("%s: %q does not say %q", name, head, want)
			}
		}
		if marks := texts(all, "marks"); name == "view box" && !slices.Equal(marks, []string{"200", "160"}) {
			t.Errorf("the dimensions are %q", marks)
		}
	}
}
