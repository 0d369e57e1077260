package mend_test

import (
	"math"
	"testing"

	"knifedesk/jobs/artwork/mend"
)

// A closed outline whose sides come within 0.01 mm of each other everywhere is
// one line, cut once; a wider one keeps its outline. Lengths by hand.
func TestSlivers(t *testing.T) {
	for _, tt := range []struct {
		name, data string
		slit       bool
		left       float64 // length of all strokes
	}{
		{"there and back", "M0 0H10Z", true, 10},
		{"a blade of 8 µm", "M0 0L10 0L10 0.008L0 0.008Z", true, 10},
		{"a blade of 12 µm", "M0 0L10 0L10 0.012L0 0.012Z", false, 20.024},
		{"a lens of 9 µm", "M0 0L5 0.0045L10 0L5 -0.0045Z", true, 10},
		{"a lens of 30 µm", "M0 0L5 0.015L10 0L5 -0.015Z", false, 20},
		{"an arc there and back", "M5 0A5 5 0 0 1 -5 0A5 5 0 0 0 5 0Z", true, 5 * math.Pi},
		{"two arcs 9 µm apart", "M5 0A5 5 0 0 1 -5 0A5.0000075 5.0000075 0 0 0 5 0Z", true, 5 * math.Pi},
		{"a bent line there and back", "M0 0H10V10V0Z", true, 20},
		{"a thin end of a wide shape", "M0 0H10L20 0.004L10 0.008V5H0Z", false, 10 + 10 + 10 + 4.992 + 10 + 5},
		{"an S and its chord, which meet in the middle", "M0 0C5 3 5 -3 10 0Z", false, 20.723}, // the S measures 10.723
		{"two S, the one turned over", "M0 0C5 3 5 -3 10 0C5 3 5 -3 0 0Z", false, 2 * 10.723},
		{"a star of hairs", "M0 0L10 0L0 0L5 8L0 0L5 -8Z", false, 10 + 2*math.Hypot(5, 8)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := mend.Lines(nil, cuts(t, tt.data), mend.Options{Limits: mend.DefaultLimits()})
			left, slits := 0.0, 0
			for _, s := range r.Strokes {
				left += s.Path.Length()
				if s.Slit {
					slits++
				}
			}
			if math.Abs(left-tt.left) > 0.02 || (slits == 1) != tt.slit {
				t.Errorf("%d slits and %.4f mm, want %v and %.4f: %q", slits, left, tt.slit, tt.left, paths(r.Strokes))
			}
			if leaks := mend.CheckEnds(nil, r.Strokes, mend.DefaultLimits()); tt.slit && leaks.Leaks.Count+leaks.Open.Count > 0 {
				t.Error("a slit counts as open")
			}
			again := mend.Lines(nil, r.Strokes, mend.Options{Limits: mend.DefaultLimits()})
			if len(again.Findings) > 0 {
				t.Errorf("mended twice it changes: %v", again.Findings)
			}
			off := mend.Lines(nil, cuts(t, tt.data), mend.Options{Limits: mend.DefaultLimits(), Off: []string{mend.MendDuplicates}})
			if off.Strokes[0].Slit {
				t.Error("cut once although duplicates stay")
			}
		})
	}
}
