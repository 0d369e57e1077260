package picture_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// laidOut draws copies of a square of 20 mm at places on a sheet of 200 × 150 mm.
func laidOut(t *testing.T, offcut *geometry.Box, at ...geometry.Point) []element {
	t.Helper()
	square := rect(0, 0, 20, 20)
	m := &weeding.Map{Bounds: square.Bounds(), Strokes: []artwork.Stroke{{Path: square, Operation: artwork.KissCut}}}
	ld := layout.Load{Number: 1, WidthMM: 200, LengthMM: 150}
	for i, q := range at {
		ld.Placements = append(ld.Placements, laid(i+1, m, geometry.Translate(q.X, q.Y)))
	}
	l := &layout.Layout{Loads: []layout.Load{ld}, Usage: layout.Usage{Offcut: offcut}}
	return parse(t, svgOf(t, must(picture.Layout(t.Context(), l, m, 1))))
}

// A layout says how many lanes and rows there are and how far they are apart, where copies
// lie in lanes and rows. By hand.
func TestLayoutTellsLanes(t *testing.T) {
	at := func(xy ...float64) (all []geometry.Point) {
		for i := 0; i < len(xy); i += 2 {
			all = append(all, geometry.Pt(xy[i], xy[i+1]))
		}
		return all
	}
	for _, c := range []struct {
		name string
		at   []geometry.Point
		want string
	}{
		{"a grid that is not full", at(5, 5, 30, 5, 55, 5, 5, 28, 30, 28), "3 lanes across, 5 mm apart; 2 rows along the feed, 3 mm apart."},
		{"one row", at(5, 5, 31, 5), "2 lanes across, 6 mm apart; 1 row along the feed."},
		{"one copy", at(5, 5), ""},
		{"no lanes", at(5, 5, 15, 28), ""},
	} {
		told := ""
		for _, text := range texts(laidOut(t, nil, c.at...), "notes") {
			if strings.Contains(text, "across") {
				told = text
			}
		}
		if told != c.want {
			t.Errorf("%s: told %q, want %q", c.name, told, c.want)
		}
	}
}

// An offcut has its size on it where that has room, and in the legend alone where not.
func TestOffcutHasItsSize(t *testing.T) {
	for _, c := range []struct {
		offcut geometry.Box
		want   bool
	}{{rect(0, 60, 200, 90).Bounds(), true}, {rect(0, 145, 200, 5).Bounds(), false}, {rect(190, 0, 10, 150).Bounds(), false}} {
		all := laidOut(t, &c.offcut, geometry.Pt(5, 5))
		on := slices.ContainsFunc(texts(all, "marks"), func(s string) bool { return strings.HasPrefix(s, "offcut, ") })
		if keyed := strings.Contains(strings.Join(texts(all, "legend"), " "), "largest offcut worth keeping"); on != c.want || !keyed {
			t.Errorf("%v: its size is on it %t, want %t; in the legend %t", c.offcut, on, c.want, keyed)
		}
	}
}
