package motion_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/motion"
)

// integrate adds up ds/v and dv over the speeds of a trajectory as functions of the
// way: v² rises and falls by twice the acceleration, which an arc bounds by what
// turning takes. In the middle of a step of equal ways in √s, as 1/v has no bound
// where it rests.
func integrate(t motion.Trajectory) (seconds float64, end geometry.Point) {
	end = t.At(0)
	for _, s := range t.Stretches() {
		const steps = 400
		angle := math.Atan2(s.Dir.Y, s.Dir.X)
		for i := range steps {
			// The way is L·(3u² − 2u³): slow at both ends.
			way := func(u float64) float64 { return s.Length * u * u * (3 - 2*u) }
			a, m, b := way(float64(i)/steps), way((float64(i)+0.5)/steps), way(float64(i+1)/steps)
			v2 := s.From*s.From + (s.To*s.To-s.From*s.From)*m/s.Length
			if s.Bend == 0 {
				v2 = min(s.Top*s.Top, s.From*s.From+2*s.Most*m, s.To*s.To+2*s.Most*(s.Length-m))
			}
			seconds += (b - a) / math.Sqrt(v2)
			sin, cos := math.Sincos(angle + s.Bend*m)
			end = end.Add(geometry.Pt(cos, sin).Mul(b - a))
		}
	}
	return seconds, end
}

// An integrator of its own agrees with the seconds that are told within 0.1 %, and
// arrives where the line ends. The lines are drawn by chance, and those of letters
// and marks as people draw them.
func TestAnotherIntegratorAgrees(t *testing.T) {
	m := motion.Axes{SpeedMMS: 180, AccelMMS2: 900}
	lines := []geometry.Path{
		path(t, "M0 0L100 0L100 50L0 50Z"), path(t, "M5 0A5 5 0 0 1 -5 0A5 5 0 0 1 5 0Z"),
		path(t, "M0 0C0 10 20 10 20 0C20 -4 12 -4 10 0Z"), path(t, "M0 0L0.1 0L0.1 0.1L0.2 0.1L0.2 5"),
	}
	for seed := range uint64(40) {
		lines = append(lines, someLine(seed))
	}
	for i, line := range lines {
		run := m.Along(nil, line, 120)
		seconds, end := integrate(run)
		if told := run.Time(); math.Abs(seconds/told-1) > 1e-3 {
			t.Errorf("line %d: %.6f s are told, integrated it is %.6f", i, told, seconds)
		}
		if off := end.Dist(line.End()); off > 1e-3*(1+line.Length()) {
			t.Errorf("line %d ends %.4f mm beside its end", i, off)
		}
	}
}
