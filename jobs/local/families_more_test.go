package local_test

import (
	"math"

	"knifedesk/geometry"
)

// moreFamilies were written later than the others, to look for what those do not
// have: outlines that run over each other or over themselves, and walls that stand
// across each other at every scale.
func moreFamilies() []family {
	return []family{
		{"overlapping squares", overlapping}, {"rosette", rosette}, {"staircase", staircase},
		{"squares in corners", cornered}, {"beads on strings", beads},
	}
}

// overlapping are squares at any angle, of which each runs over a few others.
func overlapping(s *sketch, n int) {
	k := n / 4
	for range k {
		at := geometry.Pt(20+460*s.dice.Float64(), 20+460*s.dice.Float64())
		turn := s.dice.Float64()
		s.ring(around(at, 4, func(int) float64 { return 200 / math.Sqrt(float64(k)) * (1 + turn) })...)
	}
}

// rosette is one closed line that goes round many times and runs over itself.
func rosette(s *sketch, n int) {
	turns := math.Floor(math.Sqrt(float64(n)) / 4)
	pts := make([]geometry.Point, n)
	for i := range pts {
		t := 2 * math.Pi * float64(i) / float64(n)
		pts[i] = polar(120+110*math.Sin(5*t), turns*t)
	}
	s.ring(pts...)
}

// staircase is a wedge with one side of steps.
func staircase(s *sketch, n int) {
	steps := n / 2
	pts := []geometry.Point{{X: 490, Y: 10}, {X: 490, Y: 490}}
	for i := steps; i > 0; i-- {
		x, y := 10+480*float64(i-1)/float64(steps), 10+480*float64(i)/float64(steps)
		pts = append(pts, geometry.Pt(x+480/float64(steps), y), geometry.Pt(x, y))
	}
	s.ring(append(pts, geometry.Pt(10, 10))...)
}

// cornered are squares with half as large ones at their corners, and so on.
func cornered(s *sketch, n int) {
	var put func(c geometry.Point, half float64, left int)
	put = func(c geometry.Point, half float64, left int) {
		s.square(c, half*0.45)
		if left < 4 {
			return
		}
		for _, d := range [4]geometry.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
			put(c.Add(d.Mul(half*0.75)), half/2, left/4)
		}
	}
	put(geometry.Pt(sheetMM/2, sheetMM/2), 160, n/16)
}

// beads are circles along open lines that run through them.
func beads(s *sketch, n int) {
	k := int(math.Sqrt(float64(n) / 6))
	pitch := 480 / float64(k)
	for i := range k {
		y := 10 + pitch*(float64(i)+0.5)
		s.line(geometry.Pt(5, y), geometry.Pt(495, y))
		for j := range k {
			s.circle(geometry.Pt(10+pitch*(float64(j)+0.5), y), pitch*0.3)
		}
	}
}
