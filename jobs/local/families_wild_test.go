package local_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"knifedesk/geometry"
)

// wildFamilies are drawings that are put together by chance: a motif, where its
// copies lie, and a slant. What is slow in one of them is slow in what nobody here has
// thought of.
func wildFamilies() []family {
	all := []family{
		{"gears", gears}, {"lattice of slots", slots}, {"mosaic", mosaic}, {"hatched letters", hatchedLetters},
		{"stars about one centre", centredStars}, {"combs in combs", nestedCombs}, {"long thin triangles", needles},
		{"text on circles", textOnCircles}, {"one corner in common", commonCorner}, {"plus signs", pluses},
		{"double spiral", doubleSpiral}, {"brick wall", bricks}, {"fan of wedges", wedges}, {"nested wedges", nestedWedges},
		{"long dashes", longDashes}, {"radial combs", radialCombs},
	}
	for seed := range *familiesWild {
		all = append(all, wildFamily(seed))
	}
	return all
}

func gears(s *sketch, n int) {
	lattice(n/48, func(at geometry.Point, pitch float64) {
		s.ring(around(at, 40, func(i int) float64 { return pitch * (0.45 - 0.06*float64(i/2%2)) })...)
		s.ring(around(at, 8, func(int) float64 { return pitch * 0.12 })...)
	})
}

// slots is a plate with rows of long slots, shifted against each other.
func slots(s *sketch, n int) {
	s.square(geometry.Pt(sheetMM/2, sheetMM/2), 246)
	rows := int(math.Sqrt(float64(n) / 2))
	cols := max(1, n/4/rows)
	w, h := 470/(float64(cols)+0.5), 480/float64(rows)
	for r := range rows {
		for c := range cols {
			x, y := 12+w*(float64(c)+float64(r%2)/2), 10+h*float64(r)
			s.ring(geometry.Pt(x, y+h*0.2), geometry.Pt(x+w*0.8, y+h*0.2), geometry.Pt(x+w*0.8, y+h*0.7), geometry.Pt(x, y+h*0.7))
		}
	}
}

// mosaic is a grid whose corners were moved by chance, drawn as shrunk cells.
func mosaic(s *sketch, n int) {
	k := int(math.Sqrt(float64(n) / 4))
	pitch := 480 / float64(k)
	corners := make([]geometry.Point, (k+1)*(k+1))
	for i := range corners {
		x, y := float64(i%(k+1)), float64(i/(k+1))
		corners[i] = geometry.Pt(10+pitch*(x+0.6*(s.dice.Float64()-0.5)), 10+pitch*(y+0.6*(s.dice.Float64()-0.5)))
	}
	for y := range k {
		for x := range k {
			i := y*(k+1) + x
			q := []geometry.Point{corners[i], corners[i+1], corners[i+k+2], corners[i+k+1]}
			mid := q[0].Lerp(q[2], 0.5).Lerp(q[1].Lerp(q[3], 0.5), 0.5)
			for j := range q {
				q[j] = q[j].Lerp(mid, 0.12)
			}
			s.ring(q...)
		}
	}
}

// hatchedLetters are rings filled with open strokes that end short of them.
func hatchedLetters(s *sketch, n int) {
	lattice(n/40, func(at geometry.Point, pitch float64) {
		s.ring(around(at, 24, func(i int) float64 { return pitch * (0.42 - 0.1*float64(i/6%2)) })...)
		for i := range 16 {
			y := pitch * (0.4*float64(i)/16 - 0.2)
			s.line(at.Add(geometry.Pt(-pitch*0.15, y)), at.Add(geometry.Pt(pitch*0.15, y)))
		}
	})
}

func centredStars(s *sketch, n int) {
	k := int(math.Sqrt(float64(n) / 4))
	points := max(3, n/k/2)
	for i := range k {
		out := 240 * float64(i+1) / float64(k)
		s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), 2*points, func(j int) float64 { return out - float64(j%2)*120/float64(k) })...)
	}
}

// nestedCombs are combs whose teeth stand between the teeth of the next.
func nestedCombs(s *sketch, n int) {
	k := int(math.Sqrt(float64(n) / 4))
	teeth := max(1, n/4/k)
	h, w := 480/float64(k), 480/float64(teeth)
	for r := range k {
		y := 10 + h*float64(r)
		pts := []geometry.Point{{X: 490, Y: y}, {X: 10, Y: y}}
		for i := range teeth {
			x := 10 + w*float64(i) + w*0.5*float64(r%2)*0.9
			top := y + h*1.05
			pts = append(pts, geometry.Pt(x, y+h*0.1), geometry.Pt(x, top), geometry.Pt(x+w*0.3, top), geometry.Pt(x+w*0.3, y+h*0.1))
		}
		s.ring(pts...)
	}
}

func needles(s *sketch, n int) {
	lattice(n/3, func(at geometry.Point, pitch float64) {
		turn := s.dice.Float64() * math.Pi
		along := geometry.Pt(math.Cos(turn), math.Sin(turn)).Mul(pitch * 0.48)
		s.ring(at.Sub(along), at.Add(along), at.Add(along.Perp().Mul(0.05)))
	})
}

func textOnCircles(s *sketch, n int) {
	rings := max(1, int(math.Sqrt(float64(n)/200)))
	each := max(1, n/20/rings)
	for r := range rings {
		radius := 240 * (float64(r) + 0.8) / float64(rings)
		size := math.Min(2*math.Pi*radius/float64(each), 240/float64(rings)) * 0.4
		for i := range each {
			c := polar(radius, 2*math.Pi*float64(i)/float64(each))
			s.ring(around(c, 12, func(j int) float64 { return size * (1 - 0.3*float64(j%2)) })...)
			s.ring(around(c, 8, func(int) float64 { return size * 0.35 })...)
		}
	}
}

func commonCorner(s *sketch, n int) {
	k := n / 4
	for i := range k {
		side := 480 * float64(i+1) / float64(k)
		s.ring(geometry.Pt(10, 10), geometry.Pt(10+side, 10), geometry.Pt(10+side, 10+side), geometry.Pt(10, 10+side))
	}
}

func pluses(s *sketch, n int) {
	lattice(n/12, func(at geometry.Point, pitch float64) {
		var pts []geometry.Point
		for _, p := range [12][2]float64{{1, -3}, {1, -1}, {3, -1}, {3, 1}, {1, 1}, {1, 3}, {-1, 3}, {-1, 1}, {-3, 1}, {-3, -1}, {-1, -1}, {-1, -3}} {
			pts = append(pts, at.Add(geometry.Pt(p[0], p[1]).Mul(pitch*0.15)))
		}
		s.ring(pts...)
	})
}

// doubleSpiral is two strips that wind round each other, their turns as many as fit.
func doubleSpiral(s *sketch, n int) {
	turns := math.Sqrt(float64(n)) / 2
	for arm := range 2 {
		var there, back []geometry.Point
		for i := range n / 4 {
			t := 0.02 + 0.98*float64(i)/float64(n/4)
			a := 2*math.Pi*turns*t + math.Pi*float64(arm)
			there, back = append(there, polar(235*t, a)), append(back, polar(235*t+50/turns, a))
		}
		s.ring(joined(there, back)...)
	}
}

// bricks is a wall of lines in a frame: rows right through, and short ones between them.
func bricks(s *sketch, n int) {
	k := int(math.Sqrt(float64(n)))
	pitch := 470 / float64(k)
	s.square(geometry.Pt(245, 245), 235)
	for r := range k {
		y := 10 + pitch*float64(r)
		if r > 0 {
			s.line(geometry.Pt(10, y), geometry.Pt(480, y))
		}
		for c := 1; c < k; c++ {
			x := 10 + pitch*(float64(c)-float64(r%2)/2)
			s.line(geometry.Pt(x, y), geometry.Pt(x, y+pitch))
		}
	}
}

func wedges(s *sketch, n int) {
	k := n / 3
	for i := range k {
		a := 2 * math.Pi * float64(i) / float64(k)
		s.ring(polar(60, a), polar(240, a), polar(240, a+math.Pi/float64(k)))
	}
}

func nestedWedges(s *sketch, n int) {
	k := n / 3
	for i := range k {
		t := float64(i+1) / float64(k)
		s.ring(geometry.Pt(10+100*t, 10+2*t), geometry.Pt(490-100*t, 10+2*t), geometry.Pt(250, 490-470*t))
	}
}

// longDashes are rows of slits, each far longer than the way to the next row.
func longDashes(s *sketch, n int) {
	for i := range n {
		y := 10 + 480*float64(i)/float64(n)
		x := 10 + 230*s.dice.Float64()
		s.ring(geometry.Pt(x, y), geometry.Pt(x+240, y), geometry.Pt(x+240, y+240/float64(n)))
	}
}

// radialCombs are teeth from rings inwards and outwards.
func radialCombs(s *sketch, n int) {
	s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), n/2, func(i int) float64 { return 150 + 85*float64(i/2%2) })...)
	s.ring(around(geometry.Pt(sheetMM/2, sheetMM/2), n/2, func(i int) float64 { return 140 - 100*float64(i/2%2) })...)
}

// wildFamily returns a family by its seed: rings of a motif in an arrangement, all
// turned by one angle. Motif, arrangement and proportions are chosen by the seed and are the
// same for any number of segments.
func wildFamily(seed uint64) family {
	dice := rand.New(rand.NewPCG(seed, 20))
	motif, place := dice.IntN(len(motifs)), dice.IntN(len(places))
	w := wild{
		corners: []int{3, 4, 6, 10, 24, 60}[dice.IntN(6)], waist: dice.Float64(), flat: math.Pow(dice.Float64(), 2)*0.97 + 0.03,
		size: 0.2 + 0.5*dice.Float64(), turn: dice.Float64(), spin: float64(dice.IntN(2)) * dice.Float64(),
	}
	name := fmt.Sprintf("wild %d: %s %s", seed, motifs[motif].name, places[place].name)
	return family{name, func(s *sketch, n int) {
		count := max(1, n/(w.corners*motifs[motif].rings))
		places[place].each(count, func(k int, at geometry.Point, pitch float64) {
			motifs[motif].draw(s, &w, at, pitch*w.size, w.turn*math.Pi+w.spin*float64(k))
		})
	}}
}

// wild is what the dice say of a wild family.
type wild struct {
	corners           int
	waist, flat, size float64
	turn, spin        float64
}

// ring returns a closed motif: a star or a polygon, flattened across its own axis.
func (w *wild) ring(at geometry.Point, r, turn, waist float64) []geometry.Point {
	pts := around(geometry.Pt(0, 0), w.corners, func(i int) float64 { return r * (1 - waist*float64(i%2)) })
	sin, cos := math.Sincos(turn)
	for i, p := range pts {
		y := p.Y * w.flat
		pts[i] = at.Add(geometry.Pt(p.X*cos-y*sin, p.X*sin+y*cos))
	}
	return pts
}

// motifs are what is repeated, with how many rings of the corners each is.
var motifs = []struct {
	name  string
	rings int
	draw  func(s *sketch, w *wild, at geometry.Point, r, turn float64)
}{
	{"polygons", 1, func(s *sketch, w *wild, at geometry.Point, r, turn float64) { s.ring(w.ring(at, r, turn, 0)...) }},
	{"stars", 1, func(s *sketch, w *wild, at geometry.Point, r, turn float64) { s.ring(w.ring(at, r, turn, w.waist)...) }},
	{"holed stars", 3, func(s *sketch, w *wild, at geometry.Point, r, turn float64) {
		for i := range 3 {
			s.ring(w.ring(at, r*(1-0.3*float64(i)), turn, w.waist)...)
		}
	}},
	{"open tails", 1, func(s *sketch, w *wild, at geometry.Point, r, turn float64) { s.line(w.ring(at, r, turn, w.waist)...) }},
}

// places are where copies lie: each calls put with their number, middle and room.
var places = []struct {
	name string
	each func(n int, put func(k int, at geometry.Point, pitch float64))
}{
	{"in rows", func(n int, put func(int, geometry.Point, float64)) {
		k := 0
		lattice(n, func(at geometry.Point, pitch float64) { put(k, at, pitch); k++ })
	}},
	{"in a row", func(n int, put func(int, geometry.Point, float64)) {
		for k := range n {
			put(k, geometry.Pt(10+480*(float64(k)+0.5)/float64(n), 250), 480/float64(n))
		}
	}},
	{"on circles", func(n int, put func(int, geometry.Point, float64)) {
		rings := int(math.Ceil(math.Sqrt(float64(n) / math.Pi)))
		k := 0
		for r := range rings {
			for i := range 1 + 6*r {
				if k < n {
					put(k, polar(235*float64(r)/float64(rings), 2*math.Pi*float64(i)/float64(1+6*r)), 235/float64(rings))
					k++
				}
			}
		}
	}},
	{"about one centre", func(n int, put func(int, geometry.Point, float64)) {
		for k := range n {
			put(k, polar(0, 0), 340*float64(k+1)/float64(n))
		}
	}},
	{"overlapping", func(n int, put func(int, geometry.Point, float64)) {
		dice := rand.New(rand.NewPCG(uint64(n), 3))
		for k := range n {
			put(k, geometry.Pt(40+420*dice.Float64(), 40+420*dice.Float64()), 480/math.Sqrt(float64(n)))
		}
	}},
	{"along a spiral", func(n int, put func(int, geometry.Point, float64)) {
		for k := range n {
			t := math.Sqrt((float64(k) + 0.5) / float64(n))
			put(k, polar(235*t, 2.399963*float64(k)), 400/math.Sqrt(float64(n)))
		}
	}},
}
