package nest_test

import (
	"math"
	"testing"

	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/nest"

	"pgregory.net/rapid"
)

// drawn is the length of all runs in mm, each with what it takes besides, and the number of
// rectangles on them.
func drawn(a nest.Arrangement, gap, each float64) (mm float64, n int) {
	mm, n = float64(a.FullSheets)*(float64(a.FullUM)/1000-gap+each), a.FullSheets*len(a.Full)+len(a.Rest)
	if len(a.Rest) > 0 {
		mm += float64(a.LengthUM)/1000 - gap + each
	}
	return mm, n
}

// By hand: 199 pieces of 146.3 × 85.2 with a gap of 2.5 on runs of at most 682.3 × 205.3 and
// 87.8 for each. Turned, two lie side by side and four behind each other: 25 runs and 100
// rows take 100·148.8 + 25·(87.8 − 2.5) = 17012.5 mm. Nine lie on a run where turns are
// mixed: 23 runs, but each so much longer that they took 17073.4 mm.
func TestRunsTakeTheLeastOfARoll(t *testing.T) {
	both := nest.Turns{Straight: true, Quarter: true, Mixed: true}
	got, ok := nest.Runs(nil, nest.Size{WidthMM: 146.3, LengthMM: 85.2}, nest.Size{WidthMM: 205.3, LengthMM: 682.3}, 2.5, 87.8-2.5, 199, both)
	if mm, n := drawn(got, 2.5, 87.8); !ok || n != 199 || mm > 17012.5+1e-6 {
		t.Errorf("%d pieces take %g mm", n, mm)
	}
}

// Runs never take more than rows of one turn, as full as each run holds them, nor than all
// in both turns on as few runs as can be; and no fewer rectangles than were asked for.
func TestRunsAreNeverLongerThanRows(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		mm := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) / 10 }
		piece, run := nest.Size{WidthMM: mm("w", 60, 1500), LengthMM: mm("h", 60, 1500)}, nest.Size{WidthMM: mm("width", 600, 3000), LengthMM: mm("length", 1000, 6000)}
		gap, each, n := mm("gap", 0, 80), mm("each", 80, 1200), rapid.IntRange(1, 150).Draw(t, "n")
		both := nest.Turns{Straight: true, Quarter: true, Mixed: true}
		got, ok := nest.Runs(nil, piece, run, gap, each-gap, n, both)
		took, laid := drawn(got, gap, each)
		if few, any := nest.Equal(nil, piece, run, gap, n, both); any != ok {
			t.Fatal("it fits on a sheet and on no run, or on no sheet")
		} else if ok {
			if most, _ := drawn(few, gap, each); laid != n || took > most+1e-6 {
				t.Fatalf("%d of %d take %g mm, on the fewest runs %g", laid, n, took, most)
			}
		}
		for _, p := range []nest.Size{piece, {WidthMM: piece.LengthMM, LengthMM: piece.WidthMM}} {
			across, behind := math.Floor((run.WidthMM+gap+1e-6)/(p.WidthMM+gap)), math.Floor((run.LengthMM+gap+1e-6)/(p.LengthMM+gap))
			if across == 0 || behind == 0 {
				continue
			}
			rows := math.Ceil(float64(n) / across)
			if plain := rows*(p.LengthMM+gap) + math.Ceil(rows/behind)*(each-gap); took > plain+0.01 {
				t.Fatalf("%d take %g mm, in rows of one turn %g", n, took, plain)
			}
		}
	})
}
