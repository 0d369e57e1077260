package picture_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view/picture"
)

// The parts of a question are marked by their letters at their first two places
// on the drawing, and neither beside it nor where a part has no place.
func TestPartsAreMarkedOnTheDrawing(t *testing.T) {
	place := func(x, y float64) finding.Place { return finding.Place{Box: rect(x, y, 1, 1).Bounds()} }
	a := foldedCard()
	a.Findings = nil
	a.Questions = []ask.Question{{ID: "artwork/operation", Text: "What are these?", Answers: []ask.Answer{{ID: "cut", Label: "cut"}}, Parts: []ask.Question{
		{Text: "far away", Places: []finding.Place{place(900, 10)}},
		{Text: "here and there", Places: []finding.Place{place(5, 5), place(35, 15), place(20, 5)}},
		{Text: "nowhere", Places: []finding.Place{{Box: geometry.EmptyBox(), Source: "line 7"}}},
		{Text: "here", Places: []finding.Place{place(12, 10)}},
	}}}
	got := slices.DeleteFunc(texts(parse(t, svgOf(t, must(picture.Artwork(t.Context(), a)))), "marks"), func(s string) bool {
		return len(s) > 1 // a dimension
	})
	slices.Sort(got)
	if want := []string{"B", "B", "D"}; !slices.Equal(got, want) {
		t.Errorf("marked are %v, want %v", got, want)
	}
}
