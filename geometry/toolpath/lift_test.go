package toolpath_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
)

// A blade is lifted at corners below the angle and at no others, whatever its offset,
// and stands where it belongs when it is let down: by the corner between two lines
// (Euclid), on wedges of every five degrees.
func TestSharpCornersAreTurnedLifted(t *testing.T) {
	for _, offset := range []float64{0, 0.25, 0.9} {
		rule := toolpath.Rule{Blade: knife.Blade{OffsetMM: offset, LiftBelowDeg: 60}, Rounds: 1, OffsetByMachine: true}
		for deg := 5.0; deg < 180; deg += 5 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			line := geometry.Polyline(geometry.Pt(20, 0), geometry.Pt(0, 0), geometry.Pt(20*cos, 20*sin))
			turns := 0
			proof := toolpath.Proof{}
			for m := range toolpath.Moves(nil, geometry.Point{}, []toolpath.Pass{pass(rule, []geometry.Path{line})}) {
				proof.See(nil, &m, offset)
				if m.Kind != toolpath.Turn {
					continue
				}
				turns++
				if at := geometry.Pt(offset*cos, offset*sin); m.Tip != (geometry.Point{}) || m.To().Dist(at) > 1e-9 {
					t.Errorf("offset %g, %g°: the tip is let down at %v, the axis at %v, want %v", offset, deg, m.Tip, m.To(), at)
				}
			}
			if want := deg < 60; (turns == 1) != want || proof.WorstMM > 1e-9 {
				t.Errorf("offset %g, %g°: lifted %d times, the tip strays by %g mm", offset, deg, turns, proof.WorstMM)
			}
		}
	}
}
