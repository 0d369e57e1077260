package figure

import (
	"math"

	"knifedesk/geometry"
)

// How far apart the places are that are tried round a foot, in pixels, and what it costs a
// place that a leader from the foot crosses a cell with a line.
const (
	tryEach    = 5.0
	crossPrice = 1.5
)

// Beside looks for room for a disc off its foot, at most so many pixels away, with a clear
// way for a leader. It covers no line of the work; nearer is better, and so is covering
// less of what costs something and crossing fewer lines.
//
// Where a mark had no room others like it are not tried anew: however many there are, the
// time is bounded by the blocks of cells.
func (s *Spots) Beside(foot geometry.Point, r, reach float64, cost func(i int) float64) (geometry.Point, bool) {
	block := try{int(foot.X / (blockCells * Cell)), int(foot.Y / (blockCells * Cell)), r, reach}
	if s.failed[block] {
		return geometry.Point{}, false
	}
	at, ok := s.nearest(foot, r, reach, cost)
	if !ok {
		s.failed[block] = true
	}
	return at, ok
}

// try is where a mark of one size was tried, by blocks of blockCells cells.
type try struct {
	x, y     int
	r, reach float64
}

const blockCells = 8

func (s *Spots) nearest(foot geometry.Point, r, reach float64, cost func(i int) float64) (geometry.Point, bool) {
	var best geometry.Point
	least := math.Inf(1)
	for d := 1.7 * r; d < reach && d < least; d += tryEach {
		n := max(24, math.Ceil(2*math.Pi*d/tryEach))
		for k := 0.0; k < n; k++ {
			sin, cos := math.Sincos(math.Pi/4 + 2*math.Pi*k/n)
			dir := geometry.Pt(cos, -sin)
			at := foot.Add(dir.Mul(d))
			if s.OnLine(at, r) || !s.Free(at, r) || !s.FreeLine(foot.Add(dir.Mul(2*Cell)), at) {
				continue
			}
			if sum := d + s.price(foot, at, r, cost); sum < least {
				best, least = at, sum
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// price is what a disc costs by what it covers and by what its leader crosses.
func (s *Spots) price(foot, at geometry.Point, r float64, cost func(i int) float64) float64 {
	sum := 0.0
	s.along(foot, at, func(i int) bool {
		if s.lines.at[i] {
			sum += crossPrice
		}
		return true
	})
	if cost != nil {
		s.disc(at, r, func(i int) bool { sum += cost(i); return true })
	}
	return sum
}
