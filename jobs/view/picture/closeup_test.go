package picture_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// However large the work is, the picture of its size has a bank card that is wide enough to
// compare with, on a desk and on a phone, in true proportion and on the page.
func TestCardIsWideEnough(t *testing.T) {
	const least, card = 44, 85.6 / 54
	plans := maps.Clone(must(examples()))
	maps.Copy(plans, must(ownPlans()))
	for _, width := range []float64{1000, 340} {
		ctx := figure.Onto(t.Context(), figure.Screen(width))
		for _, name := range slices.Sorted(maps.Keys(plans)) {
			one := plans[name]
			if len(one.size.Questions) > 0 {
				continue
			}
			wide := 0.0
			for _, e := range parse(t, svgOf(t, must(picture.Size(ctx, &one.drawing, &one.size)))) {
				if e.name != "path" || e.zone != "drawing" || e.attrs["stroke-dasharray"] != "1.5 3" {
					continue
				}
				b := e.paths(t)[0].Bounds()
				if r := b.Width() / b.Height(); r < 0.98*card || r > 1.02*card || b.Max.X > width {
					t.Errorf("%s at %g: a card %.1f × %.1f pixels up to %.0f", name, width, b.Width(), b.Height(), b.Max.X)
				}
				wide = max(wide, b.Width())
			}
			if wide < least {
				t.Errorf("%s at %g: the card is %.1f pixels wide", name, width, wide)
			}
		}
	}
}

// Where copies are too small for their numbers, as sixty labels are on a phone, words tell
// which lie in which row, and no number stands alone.
func TestRowsAreToldInWords(t *testing.T) {
	one := must(ownPlans())["labels"]
	all := parse(t, svgOf(t, must(picture.Layout(figure.Onto(t.Context(), figure.Screen(340)), &one.layout, &one.weeding, 1))))
	said := strings.Join(texts(all, "notes"), " ")
	for row := range 6 {
		if want := fmt.Sprintf("%d to %d", 10*row+1, 10*row+10); !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
	if marks := texts(all, "marks"); len(marks) != 2 {
		t.Errorf("beside the sides of the stock there stands %q", marks)
	}
	// On a desk all have their number, each in the same place of its copy.
	marks := texts(parse(t, svgOf(t, must(picture.Layout(t.Context(), &one.layout, &one.weeding, 1)))), "marks")
	if len(marks) != 62 {
		t.Errorf("%d marks of 60 copies and two sides", len(marks))
	}
}
