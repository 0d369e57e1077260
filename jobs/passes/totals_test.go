package passes_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
)

// What a plan says of all loads is the sum over them, and each load is loaded and
// unloaded. The test cut is made once: stock and blade stay.
func TestTotalsAreSums(t *testing.T) {
	j := jobOn(t, "card-220-a4", 14,
		artwork.Stroke{Path: path(t, "M0 0H80V50H0Z"), Operation: artwork.ThroughCut},
		artwork.Stroke{Path: path(t, "M40 5V45"), Operation: artwork.Score})
	p := j.order(t)
	if len(p.Loads) != 2 || len(p.Loads[0].Passes) != 2 {
		t.Fatalf("%d loads", len(p.Loads))
	}
	m := j.req.Machine
	want := passes.Plan{Time: passes.Time{LoadS: 2 * m.LoadS, TestS: m.TestS, UnloadS: 2 * m.UnloadS}}
	for _, load := range p.Loads {
		for i, pass := range load.Passes {
			if pass.Number != i+1 {
				t.Errorf("load %d: pass %d has number %d", load.Number, i+1, pass.Number)
			}
			want.CutMM += pass.CutMM
			want.TravelMM += pass.TravelMM
			want.Lifts += pass.Lifts
			want.Time.CutS += pass.CutS
			want.Time.TravelS += pass.TravelS
			want.Time.PauseS += pass.PauseS
			if pass.PauseS > 0 {
				t.Errorf("load %d, pass %d: a pause, though one blade scores and cuts", load.Number, pass.Number)
			}
			strokes := len(pass.Runs)
			if pass.LeadIn != nil {
				strokes++
			}
			if pass.Lifts != strokes || pass.CutMM <= 0 || pass.TravelMM <= 0 || pass.CutS <= 0 || pass.TravelS <= 0 {
				t.Errorf("load %d, pass %+v", load.Number, pass)
			}
		}
	}
	want.Time.LiftS = float64(want.Lifts) * m.LiftS
	for what, v := range map[string][2]float64{
		"cut": {p.CutMM, want.CutMM}, "travel": {p.TravelMM, want.TravelMM}, "lifts": {float64(p.Lifts), float64(want.Lifts)},
		"load": {p.Time.LoadS, want.Time.LoadS}, "test": {p.Time.TestS, want.Time.TestS}, "unload": {p.Time.UnloadS, want.Time.UnloadS},
		"cutting": {p.Time.CutS, want.Time.CutS}, "travelling": {p.Time.TravelS, want.Time.TravelS}, "lifting": {p.Time.LiftS, want.Time.LiftS},
		"pauses": {p.Time.PauseS, want.Time.PauseS}, "all": {p.Time.Total(), want.Time.Total()},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-9*v[1]) || v[1] <= 0 && what != "pauses" {
			t.Errorf("%s: %g, the loads have %g", what, v[0], v[1])
		}
	}
}

// A machine that is exactly as wide as the copies lie can cut them.
func TestJustWithinTheMachine(t *testing.T) {
	j := jobOn(t, "card-220-a4", 2, artwork.Stroke{Path: path(t, "M0 0H90V50H0Z"), Operation: artwork.ThroughCut})
	box := geometry.EmptyBox()
	for _, at := range j.layout.Loads[0].Placements {
		box = box.Union(at.Bounds)
	}
	for _, tt := range []struct {
		less float64
		want bool
	}{{0, false}, {0.01, true}} {
		j.req.Machine.WidthMM = box.Width() - tt.less
		wider := slices.ContainsFunc(j.order(t).Findings, func(f finding.Finding) bool { return f.Code == finding.WiderThanMachine })
		if wider != tt.want {
			t.Errorf("%g mm less than the copies: found %v, want %v", tt.less, wider, tt.want)
		}
	}
}

// A relief line is cut before the contours that it ends on, whichever of its
// ends lies there, so that the film is still held where it stops.
func TestReliefComesBeforeWhatItEndsOn(t *testing.T) {
	surround := artwork.Stroke{Path: path(t, "M-10 -10H70V40H-10Z"), Operation: artwork.KissCut, Added: artwork.Border}
	left := artwork.Stroke{Path: path(t, "M0 0H20V20H0Z"), Operation: artwork.KissCut}
	for _, tt := range []struct{ name, relief string }{
		{"its first end", "M20 10H70"}, {"its last end", "M70 10H20"},
	} {
		j := jobOn(t, "film-removable-610", 1, surround, left,
			artwork.Stroke{Path: path(t, tt.relief), Operation: artwork.KissCut, Added: artwork.Relief})
		at := map[int]int{}
		for i, r := range j.order(t).Loads[0].Passes[0].Runs {
			at[r.Stroke] = i
		}
		if !(at[2] < at[1] && at[1] < at[0]) {
			t.Errorf("%s: the border, the contour and the relief line are run in the places %v", tt.name, at)
		}
	}
}
