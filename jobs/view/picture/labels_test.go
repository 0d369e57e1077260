package picture_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// On the pictures of the demo and of drawings of our own, laid out for a desk and for a
// phone, no two texts overlap, none lies on a line of the work, and none is under 2.3 mm
// in print, which is more than 11 pixels on a phone.
func TestLabelsKeepOffTheWork(t *testing.T) {
	plans := map[string]*planned{}
	for name, o := range own() {
		p, err := planOf([]byte(o.file), o.choices)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		plans[name] = p
	}
	for _, name := range []string{"ring-sign", "tide-label", "lighthouse", "box-net", "class-tag", "banner", "ornament"} {
		plans[name] = example(t, name)
	}
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		for _, width := range []float64{1000, 340} {
			for stage, p := range plans[name].picturesOn(t, figure.Onto(t.Context(), figure.Screen(width))) {
				checkLabels(t, fmt.Sprintf("%s/%s at %g", name, stage, width), svgOf(t, p))
			}
		}
	}
}

// checkLabels measures the texts of a picture.
func checkLabels(t *testing.T, name string, svg []byte) {
	t.Helper()
	if folder := os.Getenv("KNIFEDESK_SCREENSHOTS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, strings.ReplaceAll(name, "/", "-")+".svg"), svg, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	all := parse(t, svg)
	work := workLines(t, all)
	var boxes []geometry.Box
	var texts []string
	for _, e := range all {
		if e.name != "text" {
			continue
		}
		l := letters{X: e.number(t, "x"), Y: e.number(t, "y"), Size: e.number(t, "font-size"), Anchor: e.attrs["text-anchor"], Weight: e.attrs["font-weight"], Text: e.text}
		box := l.box(t)
		if l.Size*figure.PrintMM < 2.3 {
			t.Errorf("%s: %q is %g pixels high", name, l.Text, l.Size)
		}
		for i, b := range boxes {
			if b.Overlaps(box) {
				t.Errorf("%s: %q lies on %q", name, l.Text, texts[i])
			}
		}
		if e.zone == "marks" && crossed(work, box) {
			t.Errorf("%s: %q lies on a line of the work at %.0f, %.0f", name, l.Text, box.Centre().X, box.Centre().Y)
		}
		boxes, texts = append(boxes, box), append(texts, l.Text)
	}
}

// workLine is a line of the work, of which a panel may show a part.
type workLine struct {
	pts  []geometry.Point
	clip geometry.Box // empty: all of it is shown
}

// workLines are the chords of what is drawn of the work: of lines in the inks of the
// operations and of drawings.
func workLines(t *testing.T, all []element) []workLine {
	t.Helper()
	inks, _, _ := picture.Inks()
	inks = append(inks[:len(picture.LineStyles())], figure.Ink, "#007c91")
	var lines []workLine
	clip := geometry.EmptyBox()
	for _, e := range all {
		switch {
		case e.name == "g":
			clip = geometry.EmptyBox()
		case e.name == "svg" && e.attrs["x"] != "":
			at := geometry.Pt(e.number(t, "x"), e.number(t, "y"))
			clip = geometry.BoxAround(at, at.Add(geometry.Pt(e.number(t, "width"), e.number(t, "height"))))
		case e.name == "path" && e.zone == "drawing" && e.attrs["fill"] == "none" && slices.Contains(inks, e.attrs["stroke"]):
			for _, p := range e.paths(t) {
				lines = append(lines, workLine{p.Flatten(0.3), clip})
			}
		}
	}
	return lines
}

// crossed reports whether a line runs through the box, a pixel within its edge.
func crossed(lines []workLine, box geometry.Box) bool {
	box = box.Grow(-1)
	for _, l := range lines {
		if !l.clip.Empty() && !l.clip.Overlaps(box) || !geometry.BoxAround(l.pts...).Overlaps(box) {
			continue
		}
		for i := 1; i < len(l.pts); i++ {
			from, to := l.pts[i-1], l.pts[i]
			n := max(1, int(to.Dist(from)/2))
			for k := 0; k <= n && geometry.BoxAround(from, to).Overlaps(box); k++ {
				if at := from.Lerp(to, float64(k)/float64(n)); box.Contains(at) && (l.clip.Empty() || l.clip.Contains(at)) {
					return true
				}
			}
		}
	}
	return false
}
