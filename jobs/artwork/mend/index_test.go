package mend

import (
	"slices"
	"testing"

	"knifedesk/geometry"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// The index finds what a look at every box finds.
func TestIndexFindsWhatIsThere(t *testing.T) {
	box := rapid.Custom(func(t *rapid.T) geometry.Box {
		at := func(name string) float64 { return float64(rapid.IntRange(0, 40).Draw(t, name)) }
		return geometry.BoxAround(geometry.Pt(at("x1"), at("y1")), geometry.Pt(at("x2"), at("y2")))
	})
	property.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(box, 0, 300).Draw(t, "boxes")
		tree, query := newIndex(boxes, nil), box.Draw(t, "query")
		var got, want []int
		tree.each(query, func(i int) bool {
			got = append(got, i)
			return true
		})
		for i, b := range boxes {
			if b.Overlaps(query) {
				want = append(want, i)
			}
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Fatalf("found %v, want %v", got, want)
		}
	})
}
