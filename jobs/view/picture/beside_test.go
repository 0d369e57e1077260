package picture_test

import (
	"math"
	"os"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

// asksForSize is a drawing of 400 × 200 units whose size is in question.
func asksForSize() (*read.Result, *size.Result) {
	path := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(400, 200)).Path()
	path2 := geometry.Circle(geometry.Pt(100, 100), 60)
	d := &read.Result{Drawing: drawing.Drawing{Shapes: []drawing.Shape{{Paths: []geometry.Path{path, path2}, Stroke: drawing.RGB(0, 0, 0)}}}}
	return d, &size.Result{Transform: geometry.Identity, Questions: []ask.Question{{
		ID: "size/true_size", Code: finding.SizeAmbiguous, Text: "How large is the finished work?",
		Answers: []ask.Answer{
			{ID: "A3", Label: "The frame is A3", WidthMM: 141.4213, HeightMM: 70.71, Evidence: "It fits the stock."},
			{ID: "A4", Label: "The frame is A4", WidthMM: 100, HeightMM: 50},
			{ID: "A0", Label: "The frame is A0", WidthMM: 400, HeightMM: 200},
			{ID: "known_width", Label: "I know the true width", NeedsMM: true, Evidence: "A ruler tells it."},
		},
	}}}
}

// Where the size is asked, the picture shows the work under each answer beside a
// card of 85.6 × 53.98 mm (ISO/IEC 7810, ID-1) at the same scale.
func TestSizesBesideACard(t *testing.T) {
	d, s := asksForSize()
	svg := svgOf(t, must(picture.Size(t.Context(), d, s)))
	if name := os.Getenv("KNIFEDESK_PICTURE"); name != "" {
		if err := os.WriteFile(name, svg, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	all := parse(t, svg)
	said := slices.Concat(texts(all, "drawing"), texts(all, "notes"), texts(all, "legend"))
	for _, want := range []string{"1. 141.4 × 70.7 mm", "2. 100 × 50 mm", "3. 400 × 200 mm", "a bank card, 85.6 × 54 mm", "1. The frame is A3: It fits the stock. Your work is then 141.4 × 70.7 mm.", "4. I know the true width: A ruler tells it."} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not among %q", want, said)
		}
	}
	cards := 0
	for _, e := range all {
		if e.name != "path" || e.zone != "drawing" || e.attrs["d"] == "" {
			continue
		}
		if box := e.paths(t)[0].Bounds(); math.Abs(box.Width()/box.Height()-85.6/53.98) < 0.01 {
			cards++
		}
	}
	if cards != 3 {
		t.Errorf("%d cards are drawn", cards)
	}
}
