package picture_test

import (
	"slices"
	"strconv"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// On a phone too every step has its number, off all lines: parts are halved until the
// numbers have room.
func TestStepsAreNumberedOnAPhone(t *testing.T) {
	for _, name := range []string{"lettering", "kit", "banner-3m", "snowflake", "rings", "knot"} {
		m := &must(ownPlans())[name].weeding
		got := texts(parse(t, svgOf(t, must(picture.Weeding(figure.Onto(t.Context(), figure.Screen(340)), m)))), "marks")
		for _, st := range m.Steps {
			if !slices.Contains(got, strconv.Itoa(st.Order)) {
				t.Errorf("%s: step %d has no number", name, st.Order)
			}
		}
	}
}
