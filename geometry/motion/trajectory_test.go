package motion_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/motion"
)

// someLine returns a path like those that are cut: lines, arcs and curves of all
// sizes, with corners and reversals.
func someLine(seed uint64) geometry.Path {
	r := rand.New(rand.NewPCG(seed, 11))
	size := math.Pow(10, 2.5*r.Float64()-1)
	pt := func() geometry.Point { return geometry.Pt(size*r.Float64(), size*r.Float64()) }
	p := geometry.Path{Start: pt()}
	for range 1 + r.IntN(12) {
		switch r.IntN(4) {
		case 0:
			p.Segments = append(p.Segments, geometry.ArcTo(2*r.Float64()-1, pt()))
		case 1:
			p.Segments = append(p.Segments, geometry.CubicTo(pt(), pt(), pt()))
		case 2:
			back := p.Start
			p.Segments = append(p.Segments, geometry.LineTo(back))
		default:
			p.Segments = append(p.Segments, geometry.LineTo(pt()))
		}
	}
	return p
}

// Sampled from the trajectory alone: over any stretch of time the mean speed of
// an axis is below its limit, and so is the change of the mean from one stretch
// to the next. The motion goes all the way, and keeps to the path.
func TestAxesKeepToTheirLimits(t *testing.T) {
	m := motion.Axes{SpeedMMS: 180, AccelMMS2: 900}
	for seed := range uint64(200) {
		line := someLine(seed)
		run := m.Along(nil, line, 220)
		total := run.Time()
		if run.At(0).Dist(line.Start) > 1e-9 || run.At(total+1).Dist(line.End()) > 1e-9 {
			t.Fatalf("line %d: from %v to %v", seed, run.At(0), run.At(total+1))
		}
		const samples = 3000
		step := total / samples
		var p, q geometry.Point = run.At(0), run.At(step)
		for i := 2; i <= samples; i++ {
			r := run.At(float64(i) * step)
			v := widest(r.Sub(q)) / step
			a := widest(r.Sub(q.Mul(2)).Add(p)) / step / step
			if v > 1.001*180 || a > 1.001*900+1e-12/step/step {
				t.Fatalf("line %d at %.4f of %.4f s: %.2f mm/s, %.2f mm/s²", seed, float64(i)*step, total, v, a)
			}
			p, q = q, r
		}
	}
}

func widest(d geometry.Point) float64 { return math.Max(math.Abs(d.X), math.Abs(d.Y)) }

// The seconds that are told are those after which the trajectory, sampled, stands
// still. It is no second integrator: the limits above bound how fast it may be.
func TestTimeIsThatOfTheTrajectory(t *testing.T) {
	m := motion.Axes{SpeedMMS: 180, AccelMMS2: 900}
	for seed := range uint64(40) {
		run := m.Along(nil, someLine(seed), 220)
		total := run.Time()
		const samples = 20_000
		end := 0.0 // the last time at which it still moves
		for i := range samples {
			s := 1.01 * total * float64(i) / samples
			if run.At(s) != run.At(s+0.01*total/samples) {
				end = s
			}
		}
		if math.Abs(end-total) > 1e-3*total {
			t.Errorf("line %d moves for %.6f s, %.6f s are told", seed, end, total)
		}
	}
}

// Common practice, no source: however a program writes a circle down, cutting it
// takes as long.
func TestTheSameCircleTakesAsLong(t *testing.T) {
	m := motion.Axes{SpeedMMS: 400, AccelMMS2: 1000}
	for _, r := range []float64{1, 5, 20, 100} {
		arc := geometry.Circle(geometry.Pt(0, 0), r)
		k := 0.5522847498 * r
		bezier := path(t, fmt.Sprintf("M%[1]g 0C%[1]g %[2]g %[2]g %[1]g 0 %[1]gC-%[2]g %[1]g -%[1]g %[2]g -%[1]g 0C-%[1]g -%[2]g -%[2]g -%[1]g 0 -%[1]gC%[2]g -%[1]g %[1]g -%[2]g %[1]g 0Z", r, k))
		want := m.PathTime(nil, arc, 300)
		near(t, fmt.Sprintf("Bézier of radius %g", r), m.PathTime(nil, bezier, 300)/want, 1, 0.03)
		for _, n := range []int{100, 360} {
			if n == 100 && r > 20 {
				continue // off the circle by more than the machine rounds corners
			}
			var pts []geometry.Point
			for i := range n + 1 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				pts = append(pts, geometry.Pt(r*cos, r*sin))
			}
			near(t, fmt.Sprintf("%d-gon of radius %g", n, r), m.PathTime(nil, geometry.Polyline(pts...), 300)/want, 1, 0.03)
		}
	}
}
