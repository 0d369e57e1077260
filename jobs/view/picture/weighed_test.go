package picture_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

// The readings that were weighed are listed, four at most, each with how wide the work would
// be and with the gravest thing that speaks against it.
func TestReadingsThatWereWeighed(t *testing.T) {
	drawn, _ := framed()
	taken := size.Hypothesis{Factor: 0.5, Plausible: true, FitsStock: true, Evidence: "The frame is A4. It leaves 0.001 mm."}
	wide := size.Hypothesis{Factor: 1, FitsStock: false, ResidualMM: [2]float64{1, 1}, Evidence: "Points. Seen so."}
	large := size.Hypothesis{Factor: 0.25, Plausible: true, ResidualMM: [2]float64{1, 1}, Evidence: "Inches"}
	off := size.Hypothesis{Factor: 0.75, Plausible: true, FitsStock: true, ResidualMM: [2]float64{0.01, 0.06}, Cause: "no_known_cause", Evidence: "The frame is A3"}
	nameless := size.Hypothesis{Factor: 0.1, Plausible: true, FitsStock: true, ResidualMM: [2]float64{0.05, 0.01}, Cause: "no_known_cause", Evidence: "A5"}
	other := size.Hypothesis{Factor: 0.2, Plausible: true, FitsStock: true, Cause: "points_read_as_mm", Evidence: "A6"}
	head := []string{"reading", "your width", "why not"}
	for _, c := range []struct {
		name string
		y    float64
		all  []size.Hypothesis
		want []string
	}{
		{"of four", 0.5, []size.Hypothesis{taken, wide, large, off}, append(slices.Clone(head), "The frame is A4", "100 mm", "this one is taken", "Points", "200 mm", "parts would be far too small or too", "large",
			"Inches", "50 mm", "does not fit the stock", "The frame is A3", "150 mm", "leaves 0.06 mm on the frame")},
		{"of five", 0.5, []size.Hypothesis{nameless, other, wide, large, off}, append(slices.Clone(head), "A5", "20 mm", "there is no known cause for it", "A6", "40 mm", "nothing in the file says so",
			"Points", "200 mm", "parts would be far too small or too", "large", "Inches", "50 mm", "does not fit the stock", "and 1 more")},
		{"where the axes differ", 0.6, []size.Hypothesis{taken}, append(slices.Clone(head), "The frame is A4", "100 mm", "nothing in the file says so")},
	} {
		s := &size.Result{Transform: geometry.Scale(0.5, c.y), X: 0.5, Y: c.y, WidthMM: 100, HeightMM: 50, Why: "It is so.", Hypotheses: c.all}
		notes := texts(parse(t, svgOf(t, must(picture.Size(t.Context(), drawn, s)))), "notes")
		at := slices.Index(notes, "reading")
		if at < 0 || !slices.Equal(notes[at:], c.want) {
			t.Errorf("%s: told is %q, want %q", c.name, notes, c.want)
		}
	}
	s := &size.Result{Transform: geometry.Identity, X: 1, Y: 1, WidthMM: 100, HeightMM: 50, Why: "It is so."}
	if notes := texts(parse(t, svgOf(t, must(picture.Size(t.Context(), drawn, s)))), "notes"); slices.Contains(notes, "reading") {
		t.Errorf("where nothing was weighed it is told %q", notes)
	}
}
