package view_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/motion"
)

// What the axes do along letters and icons, as a knife is led along them, keeps to
// their limits: sampled from the trajectory, the mean speed over any stretch of time
// and its change to the next are at most 1.001 times what the machine can do.
func TestAxesKeepToTheirLimitsOnRealLines(t *testing.T) {
	m := motion.Axes{SpeedMMS: 180, AccelMMS2: 900}
	widest := func(p geometry.Point) float64 { return math.Max(math.Abs(p.X), math.Abs(p.Y)) }
	for i, line := range append(icons(t), glyphs(t)...) {
		if i%6 != 0 || line.Length() < 1 {
			continue
		}
		var down geometry.Path
		down.Start, _ = knife.Blade{OffsetMM: 0.25, OvercutMM: 0.5}.Follow(nil, line, geometry.Pt(0, 1), 1, func(p knife.Piece) {
			down.Segments = append(down.Segments, p.Axis)
		})
		run := m.Along(nil, down, 220)
		const samples = 1500
		step := run.Time() / samples
		p, q := run.At(0), run.At(step)
		for k := 2; k <= samples; k++ {
			r := run.At(float64(k) * step)
			v, a := widest(r.Sub(q))/step, widest(r.Sub(q.Mul(2)).Add(p))/step/step
			if v > 1.001*180 || a > 1.001*900+1e-11/step/step {
				t.Fatalf("line %d, at %.4f of %.4f s: %.2f mm/s, %.2f mm/s²", i, float64(k)*step, run.Time(), v, a)
			}
			p, q = q, r
		}
	}
}
