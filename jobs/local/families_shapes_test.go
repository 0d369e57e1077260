package local_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"knifedesk/geometry"
)

// sheetMM is the side of the square that the drawings of the families fill.
const sheetMM = 500

// family is a kind of drawing that can be made of any number of segments.
type family struct {
	name string
	draw func(s *sketch, n int)
}

// families are the kinds of drawings that cost most, from reports and from a
// search over seeds: much of one thing, all of it near the next.
func families() []family {
	return append(append(moreFamilies(), wildFamilies()...), []family{
		{"stars", stars}, {"comb", comb}, {"zigzag", zigzag}, {"slanted zigzag", slantedZigzag},
		{"spiral", coil}, {"hatch", hatch}, {"grid of open lines", openGrid}, {"nested rings", nestedRings},
		{"nested squares", nestedSquares}, {"traced noise", tracedNoise}, {"dots", dots}, {"identical copies", copies},
		{"T-junctions", junctions}, {"fan", fan}, {"slivers", slivers}, {"triangles", triangles}, {"maze", maze},
		{"space-filling curve", hilbert}, {"holes in a plate", pierced}, {"lettering", lettering},
		{"tiles", tiles}, {"loose segments", loose}, {"random walk", walk}, {"bristles", bristles},
		{"stacked lines", stacked}, {"rows of dashes", dashes}, {"one great star", greatStar}, {"rings in rings", ringsInRings},
	}...)
}

// sketch is a drawing in the making, with the dice of its seed.
type sketch struct {
	strings.Builder
	dice *rand.Rand
}

// drawn returns a drawing of about n segments.
func (f family) drawn(n int, seed uint64) []byte {
	s := &sketch{dice: rand.New(rand.NewPCG(seed, 9))}
	fmt.Fprintf(s, `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]dmm" height="%[1]dmm" viewBox="0 0 %[1]d %[1]d" fill="none" stroke="#007c91">`, sheetMM)
	f.draw(s, n)
	s.WriteString("</svg>")
	return []byte(s.String())
}

func (s *sketch) line(pts ...geometry.Point) { s.path(pts, "") }
func (s *sketch) ring(pts ...geometry.Point) { s.path(pts, "z") }

func (s *sketch) path(pts []geometry.Point, end string) {
	s.WriteString(`<path d="M`)
	for _, p := range pts {
		fmt.Fprintf(s, "%.4f %.4f ", p.X, p.Y)
	}
	s.WriteString(end + `"/>`)
}

func (s *sketch) circle(c geometry.Point, r float64) {
	fmt.Fprintf(s, `<circle cx="%.4f" cy="%.4f" r="%.4f"/>`, c.X, c.Y, r)
}

func (s *sketch) square(c geometry.Point, half float64) {
	s.ring(c.Add(geometry.Pt(-half, -half)), c.Add(geometry.Pt(half, -half)), c.Add(geometry.Pt(half, half)), c.Add(geometry.Pt(-half, half)))
}

// polar returns the point at a distance from the middle of the sheet.
func polar(r, angle float64) geometry.Point {
	sin, cos := math.Sincos(angle)
	return geometry.Pt(sheetMM/2+r*cos, sheetMM/2+r*sin)
}

// lattice calls put for about n places in even rows over the sheet, with their
// distance.
func lattice(n int, put func(at geometry.Point, pitch float64)) {
	rows := int(math.Ceil(math.Sqrt(float64(n))))
	pitch := (sheetMM - 20.0) / float64(rows)
	for i := range n {
		put(geometry.Pt(10+pitch*(float64(i%rows)+0.5), 10+pitch*(float64(i/rows)+0.5)), pitch)
	}
}

func around(c geometry.Point, n int, radius func(i int) float64) []geometry.Point {
	pts := make([]geometry.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = c.Add(geometry.Pt(cos, sin).Mul(radius(i)))
	}
	return pts
}

func stars(s *sketch, n int) {
	lattice(n/10, func(at geometry.Point, pitch float64) {
		s.ring(around(at, 10, func(i int) float64 { return pitch * (0.4 - 0.25*float64(i%2)) })...)
	})
}

func greatStar(s *sketch, n int) {
	s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), n, func(i int) float64 { return 240 - 200*float64(i%2) })...)
}

func comb(s *sketch, n int) {
	pts := []geometry.Point{{X: 490, Y: 5}, {X: 10, Y: 5}}
	for i, teeth := 0, n/4; i < teeth; i++ {
		x, w := 10+480*float64(i)/float64(teeth), 480/float64(teeth)
		pts = append(pts, geometry.Pt(x, 10), geometry.Pt(x, 490), geometry.Pt(x+w/2, 490), geometry.Pt(x+w/2, 10))
	}
	s.ring(append(pts, geometry.Pt(490, 10))...)
}

func zigzag(s *sketch, n int) {
	var there, back []geometry.Point
	for i, turns := 0, n/2; i < turns; i++ {
		p := geometry.Pt(10+470*float64(i)/float64(turns), 10+460*float64(i%2))
		there, back = append(there, p), append(back, p.Add(geometry.Pt(235/float64(turns), 5)))
	}
	s.ring(joined(there, back)...)
}

func slantedZigzag(s *sketch, n int) {
	var there, back []geometry.Point
	for i, turns := 0, n/2; i < turns; i++ {
		t := float64(i) / float64(turns)
		p := geometry.Pt(10+240*t+230*float64(i%2), 250+230*t-230*float64(i%2))
		there, back = append(there, p), append(back, p.Add(geometry.Pt(60/float64(turns), 60/float64(turns)+1)))
	}
	s.ring(joined(there, back)...)
}

// joined returns a way there and back.
func joined(there, back []geometry.Point) []geometry.Point {
	for i := len(back) - 1; i >= 0; i-- {
		there = append(there, back[i])
	}
	return there
}

func coil(s *sketch, n int) {
	var there, back []geometry.Point
	turns := 100.0
	for i := range n / 2 {
		t := float64(i) / float64(n/2)
		there = append(there, polar(3+235*t, 2*math.Pi*turns*t))
		back = append(back, polar(4+235*t, 2*math.Pi*turns*t))
	}
	s.ring(joined(there, back)...)
}

func hatch(s *sketch, n int) {
	for i := range n {
		y := 10 + 480*float64(i)/float64(n)
		s.line(geometry.Pt(10, y), geometry.Pt(490, y+3*s.dice.Float64()*480/float64(n)))
	}
}

func openGrid(s *sketch, n int) {
	k := int(math.Sqrt(float64(n)))
	for i := range k {
		at := 10 + 480*(float64(i)+0.5)/float64(k)
		s.line(geometry.Pt(5, at), geometry.Pt(495, at))
		s.line(geometry.Pt(at, 5), geometry.Pt(at, 495))
	}
}

func nestedRings(s *sketch, n int) {
	k := n / 36
	for i := range k {
		s.circle(geometry.Pt(sheetMM/2, sheetMM/2), 245*float64(i+1)/float64(k))
	}
}

func nestedSquares(s *sketch, n int) {
	k := n / 4
	for i := range k {
		s.square(geometry.Pt(sheetMM/2, sheetMM/2), 245*float64(i+1)/float64(k))
	}
}

func ringsInRings(s *sketch, n int) {
	lattice(n/32, func(at geometry.Point, pitch float64) {
		for i := range 8 {
			s.square(at, pitch*0.45*float64(i+1)/8)
		}
	})
}

func tracedNoise(s *sketch, n int) {
	s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), n, func(i int) float64 {
		return 200 + 30*math.Sin(10*2*math.Pi*float64(i)/float64(n)) + 0.02*(2*s.dice.Float64()-1)
	})...)
}

func dots(s *sketch, n int) {
	lattice(n/5, func(at geometry.Point, pitch float64) { s.circle(at, pitch*0.35) })
}

func copies(s *sketch, n int) {
	const corners = 50
	ring := around(geometry.Pt(sheetMM/2, sheetMM/2), corners, func(i int) float64 { return 200 - 90*float64(i%2) })
	for range n / corners {
		s.ring(ring...)
	}
}

func junctions(s *sketch, n int) {
	s.line(geometry.Pt(10, 20), geometry.Pt(490, 20))
	for i := range n {
		x := 10 + 480*(float64(i)+0.5)/float64(n)
		s.line(geometry.Pt(x, 20), geometry.Pt(x, 100+100*s.dice.Float64()))
	}
}

func fan(s *sketch, n int) {
	for i := range n {
		s.line(polar(0, 0), polar(240, 2*math.Pi*(float64(i)+s.dice.Float64())/float64(n)))
	}
}

func slivers(s *sketch, n int) {
	k := n / 3
	for i := range k {
		y := 10 + 480*float64(i)/float64(k)
		s.ring(geometry.Pt(10, y), geometry.Pt(490, y+100/float64(k)), geometry.Pt(10, y+200/float64(k)))
	}
}

func triangles(s *sketch, n int) {
	lattice(n/3, func(at geometry.Point, pitch float64) {
		s.ring(around(at, 3, func(int) float64 { return pitch * 0.45 })...)
	})
}

// maze walks through all cells of a square by chance and draws the walls left.
func maze(s *sketch, n int) {
	side := max(2, int(math.Sqrt(float64(n))))
	pitch := 480 / float64(side)
	at := func(x, y int) geometry.Point { return geometry.Pt(10+pitch*float64(x), 10+pitch*float64(y)) }
	for y := range side {
		for x := range side {
			if s.dice.IntN(2) == 0 {
				s.line(at(x, y), at(x+1, y))
			} else {
				s.line(at(x, y), at(x, y+1))
			}
		}
	}
	s.line(at(side, 0), at(side, side), at(0, side))
}

func hilbert(s *sketch, n int) {
	order := 1
	for 1<<(2*order+2) <= 2*n {
		order++
	}
	side := 1 << order
	var pts []geometry.Point
	for d := range side * side {
		x, y := hilbertCell(order, d)
		pts = append(pts, geometry.Pt(10+470*(float64(x)+0.5)/float64(side), 10+470*(float64(y)+0.5)/float64(side)))
	}
	s.line(pts[:min(n, len(pts))]...)
}

// hilbertCell returns the d-th cell of Hilbert's curve of an order.
func hilbertCell(order, d int) (x, y int) {
	for s := 1; s < 1<<order; s *= 2 {
		rx := 1 & (d / 2)
		ry := 1 & (d ^ rx)
		if ry == 0 {
			if rx == 1 {
				x, y = s-1-x, s-1-y
			}
			x, y = y, x
		}
		x, y, d = x+s*rx, y+s*ry, d/4
	}
	return x, y
}

func pierced(s *sketch, n int) {
	s.square(geometry.Pt(sheetMM/2, sheetMM/2), 245)
	lattice(n/8, func(at geometry.Point, pitch float64) {
		s.ring(around(at, 8, func(int) float64 { return pitch * (0.1 + 0.3*s.dice.Float64()) })...)
	})
}

// lettering sets shapes like an e and an o in lines.
func lettering(s *sketch, n int) {
	lattice(n/60, func(at geometry.Point, pitch float64) {
		r := pitch * 0.4
		s.ring(around(at, 36, func(i int) float64 { return r * (1 - 0.5*float64(i/18%2)*math.Abs(math.Sin(float64(i)))) })...)
		s.ring(around(at, 24, func(int) float64 { return r * 0.4 })...)
	})
}

func tiles(s *sketch, n int) {
	lattice(n/4, func(at geometry.Point, pitch float64) { s.square(at, pitch/2) })
}

func loose(s *sketch, n int) {
	for range n {
		p := geometry.Pt(10+480*s.dice.Float64(), 10+480*s.dice.Float64())
		s.line(p, p.Add(polar(300/math.Sqrt(float64(n)), 7*s.dice.Float64()).Sub(polar(0, 0))))
	}
}

func walk(s *sketch, n int) {
	p, step := geometry.Pt(sheetMM/2, sheetMM/2), 200/math.Sqrt(float64(n))
	pts := []geometry.Point{p}
	for range n {
		q := p.Add(polar(step, 7*s.dice.Float64()).Sub(polar(0, 0)))
		p = geometry.Pt(math.Max(5, math.Min(495, q.X)), math.Max(5, math.Min(495, q.Y)))
		pts = append(pts, p)
	}
	s.line(pts...)
}

// bristles are open tails on one closed outline.
func bristles(s *sketch, n int) {
	k := n / 2
	r := func(int) float64 { return 150 }
	s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), k, r)...)
	for i := range k {
		a := 2 * math.Pi * float64(i) / float64(k)
		s.line(polar(150, a), polar(150+80*s.dice.Float64(), a))
	}
}

// stacked are lines that lie on each other in part.
func stacked(s *sketch, n int) {
	rows := max(1, n/200)
	for i := range n {
		y, x := 10+480*float64(i%rows)/float64(rows), 10+300*s.dice.Float64()
		s.line(geometry.Pt(x, y), geometry.Pt(x+180*s.dice.Float64(), y))
	}
}

func dashes(s *sketch, n int) {
	lattice(n, func(at geometry.Point, pitch float64) {
		s.line(at, at.Add(geometry.Pt(pitch*0.6, 0)))
	})
}
