package weeding_test

import (
	"math"
	"testing"

	"knifedesk/jobs/weeding"

	"github.com/google/go-cmp/cmp"
)

// What can be cut without the rest: a piece with its openings and the slits in it; pieces
// that share a line are one, even by a third, and what lies in waste is of none. Each part
// by itself keeps what it kept.
func TestPartsThatCanBeCutAlone(t *testing.T) {
	m := chart(t, drawn(t,
		"M0 0H20V20H0Z", "M5 5H15V15H5Z", // a ring,
		"M7 7H13V13H7Z",                                         // which holds a piece
		"M40 0H60V20H40Z", "M60 0H80V20H60Z", "M80 5H90V15H80Z", // three in a row
		"M42 2H50",          // a slit in the first of them
		"M0 60H3",           // in waste
		"M0 40H20V41.5H0Z"), // narrow
		weeding.Request{Purpose: weeding.Pieces, Stock: card})
	var got []weeding.Apart
	areas := []float64{}
	for _, one := range m.Apart(nil) {
		got = append(got, one)
		alone, err := m.Alone(nil, one, weeding.Request{Purpose: weeding.Pieces, Stock: card})
		if err != nil {
			t.Fatal(err)
		}
		areas = append(areas, math.Round(keptArea(alone)*1e6)/1e6)
	}
	for i := range got {
		for _, n := range got[i].Regions {
			if !m.Regions[n-1].Kept() {
				t.Errorf("part %d has region %d, which is %s", i, n, m.Regions[n-1].Class)
			}
		}
		got[i].Regions = []int{len(got[i].Regions)}
	}
	// In reading order, the topmost first; regions by their number of them.
	want := []weeding.Apart{{[]int{1}, []int{8}}, {[]int{1}, []int{0, 1}}, {[]int{3}, []int{3, 4, 5, 6}}, {[]int{1}, []int{2}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]float64{30, 300, 900, 36}, areas); diff != "" {
		t.Error(diff)
	}
}
