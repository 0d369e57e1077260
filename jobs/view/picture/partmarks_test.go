package picture_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view/picture"
)

// The parts of a question are marked by their letters at their first two places,
// and findings by their numbers: on the drawing, and neither beside it, nor all
// round it, nor where there is no place. No two names stand on each other.
func TestPartsAreMarkedOnTheDrawing(t *testing.T) {
	place := func(x, y float64) finding.Place { return finding.Place{Box: rect(x, y, 1, 1).Bounds()} }
	nowhere := finding.Place{Box: geometry.EmptyBox(), Source: "line 7"}
	a := foldedCard()
	a.Findings = []finding.Finding{
		{Number: 7, Code: "x", Severity: finding.Warn, Count: 1, Hint: "One.", Places: []finding.Place{place(900, 10), nowhere, {Box: rect(-50, -50, 200, 200).Bounds()}}},
		{Number: 8, Code: "y", Severity: finding.Warn, Count: 1, Hint: "Two.", Places: []finding.Place{place(30, 5)}},
		{Number: 9, Code: "z", Severity: finding.Warn, Count: 1, Hint: "Three.", Places: []finding.Place{place(30, 5)}},
	}
	a.Questions = []ask.Question{{ID: "artwork/operation", Text: "What are these?", Answers: []ask.Answer{{ID: "cut", Label: "cut"}}, Parts: []ask.Question{
		{Text: "far away", Places: []finding.Place{place(900, 10)}},
		{Text: "here and there", Places: []finding.Place{place(5, 5), place(35, 15), place(20, 5)}},
		{Text: "nowhere", Places: []finding.Place{nowhere}},
		{Text: "here", Places: []finding.Place{place(12, 10)}},
	}}}
	var got []string
	var at []geometry.Point
	for _, e := range parse(t, svgOf(t, must(picture.Artwork(t.Context(), a)))) {
		if e.zone == "marks" && e.name == "text" && len(e.text) == 1 { // longer ones are dimensions
			got, at = append(got, e.text), append(at, geometry.Pt(e.number(t, "x"), e.number(t, "y")))
		}
	}
	for i := range at {
		for k := range i {
			if at[i].Dist(at[k]) < 20 { // the side of the square round each
				t.Errorf("%s and %s stand on each other", got[i], got[k])
			}
		}
	}
	slices.Sort(got)
	if want := []string{"8", "9", "B", "B", "D"}; !slices.Equal(got, want) {
		t.Errorf("marked are %v, want %v", got, want)
	}
}
