package picture_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view/picture"
)

// A square of two polylines with a copy of one of them: what is mended is shown as drawn
// and as it is cut, three lines there and one here, on a desk and on a phone. By hand.
func TestMendsAreShownBeforeAndAfter(t *testing.T) {
	const half, other = "M20 20h60v60", "M80 80h-60v-60"
	p := must(planOf([]byte(drawingOf(100, 100, half+"|"+other+"|"+half)), plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}}))
	for _, width := range []float64{1000, 340} {
		shown := must(picture.Mended(figure.Onto(t.Context(), figure.Screen(width)), &p.drawing, &p.size, &p.artwork))
		all := parse(t, svgOf(t, shown))
		var told []string
		for _, e := range all {
			if e.name == "text" && (strings.HasPrefix(e.text, "as drawn") || strings.HasPrefix(e.text, "as it is cut")) {
				told = append(told, e.text)
			}
		}
		mends := 0
		for _, f := range p.artwork.Findings {
			if f.Mend != nil && f.Mend.Applied && len(f.Places) > 0 {
				mends++
			}
		}
		if len(told) != 2*mends || mends == 0 || !slices.Contains(told, "as drawn: 3 lines") || !slices.Contains(told, "as it is cut: 1 line") {
			t.Errorf("at %g: %d mends are told as %q", width, mends, told)
		}
	}
}

// Where nothing was mended there is nothing to show.
func TestNothingMended(t *testing.T) {
	p := must(planOf([]byte(drawingOf(100, 100, "M20 20h60v60h-60z")), plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}}))
	if picture.IsMended(&p.artwork) {
		t.Errorf("mended: %+v", p.artwork.Findings)
	}
}

// Circles that overlap and are joined are shown as three lines before and one after.
func TestJoinedShapesAreShownBeforeAndAfter(t *testing.T) {
	p := must(ownPlans())["overlaps"]
	if !picture.IsJoined(&p.artwork, &p.weeding) {
		t.Fatal("nothing is joined")
	}
	all := parse(t, svgOf(t, must(picture.Joined(t.Context(), &p.artwork, &p.weeding))))
	var told []string
	for _, e := range all {
		if e.name == "text" && (strings.HasPrefix(e.text, "as drawn") || strings.HasPrefix(e.text, "as it is cut")) {
			told = append(told, e.text)
		}
	}
	if want := []string{"as drawn: 3 lines", "as it is cut: 1 line"}; !slices.Equal(told, want) {
		t.Errorf("told %q, want %q", told, want)
	}
	for name, p := range must(ownPlans()) {
		overlap := name == "overlaps" || name == "fresh-knot"
		if joined := picture.IsJoined(&p.artwork, &p.weeding); joined != overlap {
			t.Errorf("%s: joined: %t", name, joined)
		}
	}
}
