package motion

import (
	"iter"
	"math"

	"knifedesk/geometry"
)

// Trajectory is a motion from rest to rest: where the axes are at every time.
// Make it with Axes.Along.
type Trajectory struct {
	start  geometry.Point
	pieces []piece
}

// piece is a straight line or an arc of a motion.
type piece struct {
	from   geometry.Point
	dir    geometry.Point // at from, of length 1
	bend   float64        // 1/mm, 1 by the radius, to the left where positive; 0: straight
	length float64        // mm
	a, top float64        // limits along it

	v0, v1 float64 // speeds at the ends
	peak   float64 // between them
}

// reached is the square of the highest speed at the other end of the piece for
// the square of that at one.
//
// An arc needs v²·bend of its acceleration to turn, and what is left changes
// the speed: v² − v0² = 2·L·(a − v²·bend), with v the higher speed.
func (p *piece) reached(v2 float64) float64 {
	return (v2 + 2*p.a*p.length) / (1 + 2*p.length*math.Abs(p.bend))
}

// run sets the speeds at the ends, which it can join.
func (p *piece) run(v0, v1 float64) {
	p.v0, p.v1, p.peak = v0, v1, math.Max(v0, v1)
	if p.bend == 0 {
		p.peak = math.Max(p.peak, math.Min(p.top, math.Sqrt((2*p.a*p.length+v0*v0+v1*v1)/2)))
	}
}

// ramps returns the seconds in which the piece speeds up, keeps its speed, and
// slows down.
func (p *piece) ramps() (up, keep, down float64) {
	if p.bend != 0 {
		t := 2 * p.length / (p.v0 + p.v1)
		if p.v0 < p.v1 {
			return t, 0, 0
		}
		return 0, 0, t
	}
	up, down = (p.peak-p.v0)/p.a, (p.peak-p.v1)/p.a
	rest := p.length - up*(p.v0+p.peak)/2 - down*(p.v1+p.peak)/2
	return up, math.Max(0, rest) / p.peak, down
}

// Time returns the seconds of the motion.
func (t Trajectory) Time() float64 {
	total := 0.0
	for i := range t.pieces {
		if t.pieces[i].length > 0 {
			up, keep, down := t.pieces[i].ramps()
			total += up + keep + down
		}
	}
	return total
}

// Marks lists when the motion passes from one piece to the next, and where that is:
// its start at 0, and the end of each piece that has a length.
func (t Trajectory) Marks() iter.Seq2[float64, geometry.Point] {
	return func(yield func(float64, geometry.Point) bool) {
		s, more := 0.0, yield(0, t.start)
		for i := 0; more && i < len(t.pieces); i++ {
			if p := &t.pieces[i]; p.length > 0 {
				up, keep, down := p.ramps()
				s += up + keep + down
				more = yield(s, p.at(p.length))
			}
		}
	}
}

// At returns the place at a time in s from the start; before and after the
// motion it is that of its ends. It takes as many steps as there are pieces.
func (t Trajectory) At(s float64) geometry.Point {
	end := t.start
	for i := range t.pieces {
		p := &t.pieces[i]
		if p.length == 0 {
			continue
		}
		up, keep, down := p.ramps()
		if all := up + keep + down; s >= all {
			s -= all
			end = p.at(p.length)
			continue
		}
		return p.at(p.way(math.Max(0, s)))
	}
	return end
}

// way is how far along the piece the motion has come s seconds after its start.
func (p *piece) way(s float64) float64 {
	up, keep, down := p.ramps()
	switch {
	case s < up:
		return s * (p.v0 + (p.peak-p.v0)*s/up/2)
	case s < up+keep:
		return up*(p.v0+p.peak)/2 + p.peak*(s-up)
	}
	left := up + keep + down - s
	return p.length - left*(p.v1+(p.peak-p.v1)*left/down/2)
}

// at is the place so far along the piece.
func (p *piece) at(way float64) geometry.Point {
	if p.bend == 0 {
		return p.from.Add(p.dir.Mul(way))
	}
	sin, cos := math.Sincos(way * p.bend)
	side := geometry.Pt(-p.dir.Y, p.dir.X)
	return p.from.Add(p.dir.Mul(sin / p.bend)).Add(side.Mul((1 - cos) / p.bend))
}
