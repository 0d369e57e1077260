package passes_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
)

// What is left of outlines of which some edges are shared and cut once: six tags in two
// rows, as the artwork leaves them. All that is drawn is cut and nothing else, seen at
// points of both; what ends where another line goes straight on is cut past by the
// overcut, and what ends square on one is not.
func TestSharedEdgesAreCutPastTheirJunctions(t *testing.T) {
	var strokes []artwork.Stroke
	for _, data := range []string{
		"M0 20L0 40L30 40L30 20L60 20L60 0L30 0", "M30 40L60 40L60 20L90 20L90 0L60 0", "M60 40L90 40L90 20", "M0 20L30 20L30 0L0 0L0 20Z", "M10 20V15",
	} {
		strokes = append(strokes, stroke(t, artwork.ThroughCut, data))
	}
	j := jobOn(t, "card-160-a4", 1, strokes...)
	plan := j.order(t)
	pass := plan.Loads[0].Passes[0]
	over := pass.Rule.OvercutMM
	var drawn, cut []geometry.Path
	total := pass.LeadIn.From.Dist(pass.LeadIn.To) + over // of the closed one
	for _, s := range strokes {
		drawn = append(drawn, s.Path.Transform(j.layout.Loads[0].Placements[0].Transform))
		total += s.Path.Length()
	}
	past := map[int]int{}
	for _, run := range pass.Runs {
		cut = append(cut, passes.Trace(run, j.strokes, j.layout))
		for _, mm := range [...]float64{run.BeforeMM, run.AfterMM} {
			if mm > 0 {
				past[run.Stroke]++
				total += mm
				near(t, "cut past", mm, over, 0)
			}
		}
	}
	for i, want := range []int{2, 2, 2, 0, 0} {
		if past[i] != want {
			t.Errorf("stroke %d is cut past %d ends, want %d", i, past[i], want)
		}
	}
	near(t, "cut", pass.CutMM, total, 1e-9)
	for _, sides := range [][2][]geometry.Path{{drawn, cut}, {cut, drawn}} {
		for _, p := range sides[0] {
			pts := p.Flatten(0.01)
			for i, q := range pts[1:] {
				for k := 0.0; k <= 100; k++ {
					if at := pts[i].Lerp(q, k/100); offAll(at, sides[1]) > 1e-6 {
						t.Fatalf("%v is drawn and not cut, or cut and not drawn", at)
					}
				}
			}
		}
	}
}

// offAll is how far a point lies off all lines.
func offAll(p geometry.Point, lines []geometry.Path) float64 {
	off := math.Inf(1)
	for _, line := range lines {
		pts := line.Flatten(0.01)
		for i, q := range pts[1:] {
			off = math.Min(off, offChord(p, pts[i], q))
		}
	}
	return off
}
