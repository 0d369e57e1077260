package passes_test

import (
	"testing"

	"knifedesk/jobs/artwork"
)

// Two relief lines that meet hold each other back neither way: both are run, each
// once, before the contours that they end on, and the border last.
func TestReliefLinesThatMeet(t *testing.T) {
	kiss := func(data string, added artwork.Added) artwork.Stroke {
		return artwork.Stroke{Path: path(t, data), Operation: artwork.KissCut, Added: added}
	}
	j := jobOn(t, "film-removable-610", 1,
		kiss("M-10 -10H70V60H-10Z", artwork.Border), kiss("M0 0H20V20H0Z", ""), kiss("M40 30H60V50H40Z", ""),
		kiss("M20 10H50", artwork.Relief), kiss("M50 10V30", artwork.Relief))
	order := runOrder(j.order(t).Loads[0].Passes[0])
	if len(order) != 5 {
		t.Fatalf("run are %v", order)
	}
	at := map[int]int{}
	for i, s := range order {
		at[s] = i
	}
	if at[3] > at[1] || at[4] > at[2] || at[0] != 4 {
		t.Errorf("run are %v: relief lines 3 and 4, then contours 1 and 2, and the border 0 last", order)
	}
}
