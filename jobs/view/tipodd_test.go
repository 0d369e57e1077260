package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
)

// What no program draws on purpose and files hold all the same is cut true: spirals, loops
// smaller than the offset, cusps, arcs that meet in tangents, bulges near 0 and 1, lenses of
// two arcs, steps far below the offset, flat ellipses, contours that run there and back,
// points that come twice.
func TestTheTipCutsOddShapes(t *testing.T) {
	for k := range max(1, *errands/100) {
		r := rand.New(rand.NewPCG(*errandsAfter+k, 31))
		var lines []geometry.Path
		for range 2 {
			for _, odd := range oddShapes {
				lines = append(lines, odd(r))
			}
		}
		p := laid(t, lines)
		for _, offset := range []float64{0.25, 0.5, 0.9} {
			for _, arcs := range []bool{false, true} {
				t.Run(fmt.Sprintf("%d, %g mm, arcs %v", *errandsAfter+k, offset, arcs), func(t *testing.T) {
					p.Passes.Arcs = arcs
					p.cutBy(t, offset)
					for _, reader := range ownReaders() {
						checkTip(t, p, 0, reader, r.Float64()*2*math.Pi)
					}
				})
			}
		}
	}
}

var oddShapes = []func(r *rand.Rand) geometry.Path{
	spiral, loops, cusps, tangentArcs, bulges, lens, steps, flatEllipse, thereAndBack, repeated,
}

// powered is a number between two, small ones as often as large ones.
func powered(r *rand.Rand, least, most float64) float64 {
	return least * math.Pow(most/least, r.Float64())
}

func spiral(r *rand.Rand) geometry.Path {
	pitch, turns, step := powered(r, 0.1, 3), 1+4*r.Float64(), powered(r, 0.03, 0.5)
	var pts []geometry.Point
	for a := 0.0; a < turns*2*math.Pi; a += step {
		sin, cos := math.Sincos(a)
		pts = append(pts, geometry.Pt(cos, sin).Mul(pitch*a/(2*math.Pi)))
	}
	return geometry.Polyline(pts...)
}

func loops(r *rand.Rand) geometry.Path {
	p := geometry.Path{}
	for range 3 + r.IntN(5) {
		at, k := p.End(), powered(r, 0.05, 2)
		p.Segments = append(p.Segments, geometry.CubicTo(at.Add(geometry.Pt(3*k, 2*k)), at.Add(geometry.Pt(-2*k, 2*k)), at.Add(geometry.Pt(k, 0))))
	}
	return p
}

func cusps(r *rand.Rand) geometry.Path {
	p := geometry.Path{}
	for range 2 + r.IntN(4) {
		at, k := p.End(), powered(r, 0.2, 6)
		end := at.Add(geometry.Pt(k, k*(r.Float64()-0.5)))
		p.Segments = append(p.Segments, geometry.CubicTo(at.Add(geometry.Pt(k, k)), end.Add(geometry.Pt(-k, k)), end))
	}
	if r.IntN(2) == 0 {
		p.Close()
	}
	return p
}

// tangentArcs bend to and fro without a corner.
func tangentArcs(r *rand.Rand) geometry.Path {
	p := geometry.Path{}
	heading := 2 * math.Pi * r.Float64()
	for range 4 + r.IntN(8) {
		radius, turn := powered(r, 0.05, 3), (r.Float64()-0.5)*2*math.Pi*0.98
		sin, cos := math.Sincos(heading + turn/2)
		p.Segments = append(p.Segments, geometry.ArcTo(math.Tan(turn/4), p.End().Add(geometry.Pt(cos, sin).Mul(2*radius*math.Abs(math.Sin(turn/2))))))
		heading += turn
	}
	return p
}

func bulges(r *rand.Rand) geometry.Path {
	p := geometry.Path{}
	for i := range 4 + r.IntN(5) {
		b := []float64{1e-12, 1e-7, 1e-4, 1e-2, 0.9, 0.999999, 1}[r.IntN(7)]
		if r.IntN(2) == 0 {
			b = -b
		}
		sin, cos := math.Sincos(float64(i) * 0.7)
		p.Segments = append(p.Segments, geometry.ArcTo(b, p.End().Add(geometry.Pt(cos, sin).Mul(powered(r, 0.1, 5)))))
	}
	if r.IntN(2) == 0 {
		p.Close()
	}
	return p
}

func lens(r *rand.Rand) geometry.Path {
	end := geometry.Pt(powered(r, 0.3, 20), 0)
	return geometry.Path{Closed: true, Segments: []geometry.Segment{
		geometry.ArcTo(powered(r, 0.001, 1), end), geometry.ArcTo(powered(r, 0.001, 1), geometry.Point{}),
	}}
}

func steps(r *rand.Rand) geometry.Path {
	step, high := powered(r, 0.005, 0.3), powered(r, 0.002, 0.3)
	pts := []geometry.Point{{}}
	for x := 0.0; x < 25 && len(pts) < 3000; x += step {
		y := high * float64(len(pts)/2%2)
		pts = append(pts, geometry.Pt(x, y), geometry.Pt(x, high-y))
	}
	return geometry.Polyline(pts...)
}

func flatEllipse(r *rand.Rand) geometry.Path {
	p := geometry.Circle(geometry.Pt(0, 0), 12)
	return p.Transform(geometry.Scale(1, powered(r, 0.003, 1)).Then(geometry.Rotate(r.Float64())))
}

func thereAndBack(r *rand.Rand) geometry.Path {
	return geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(powered(r, 0.1, 20), r.Float64()))
}

// repeated is a contour in which points come twice, and thrice on a line.
func repeated(r *rand.Rand) geometry.Path {
	var pts []geometry.Point
	for i := range 5 + r.IntN(20) {
		sin, cos := math.Sincos(float64(i) * (0.2 + 2*r.Float64()))
		p := geometry.Pt(cos, sin).Mul(10)
		for range 1 + r.IntN(3) {
			pts = append(pts, p)
		}
		pts = append(pts, p.Add(geometry.Pt(1e-7, 0)))
	}
	return geometry.Polygon(pts...)
}
