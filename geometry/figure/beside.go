package figure

import (
	"math"

	"knifedesk/geometry"
)

// Line notes lines of the work (pixels), which marks keep off where they can.
func (s *Spots) Line(paths []geometry.Path) {
	for _, p := range paths {
		pts := p.FlattenIn(s.b, 0.5)
		for k := 1; k < len(pts); k++ {
			s.along(pts[k-1], pts[k], func(i int) bool { s.lined[i] = true; return true })
		}
	}
}

// Forget takes back all marks, but not the lines of the work.
func (s *Spots) Forget() { clear(s.busy) }

// Clear reports whether no line of the work runs through a box (pixels) and no mark
// stands in it.
func (s *Spots) Clear(b geometry.Box) bool {
	for y := b.Min.Y; y <= b.Max.Y+Cell/2; y += Cell / 2 {
		s.b.Step()
		for x := b.Min.X; x <= b.Max.X+Cell/2; x += Cell / 2 {
			if i, ok := s.At(geometry.Pt(math.Min(x, b.Max.X), math.Min(y, b.Max.Y))); ok && (s.lined[i] || s.busy[i]) {
				return false
			}
		}
	}
	return true
}

// reach is how far from its foot a mark may stand, in radii, and farReach where it
// covers a line of the work any nearer.
const (
	reach    = 8
	farReach = 18
)

// Beside looks for room for a disc near its foot, with a clear way for a leader. Nearer
// is better, and so is covering less of what costs something. It covers no line of the
// work where there is room elsewhere.
func (s *Spots) Beside(foot geometry.Point, r float64, cost func(i int) float64) (geometry.Point, bool) {
	if at, ok := s.Off(foot, r, cost); ok {
		return at, true
	}
	return s.beside(foot, r, cost, reach, false)
}

// Off is Beside where a disc stands off all lines of the work, or not at all.
func (s *Spots) Off(foot geometry.Point, r float64, cost func(i int) float64) (geometry.Point, bool) {
	if at, ok := s.beside(foot, r, cost, reach, true); ok {
		return at, true
	}
	return s.beside(foot, r, cost, farReach, true)
}

func (s *Spots) beside(foot geometry.Point, r float64, cost func(i int) float64, reach float64, off bool) (geometry.Point, bool) {
	var best geometry.Point
	least := math.Inf(1)
	for d := 1.7 * r; d < reach*r && d < least; d += 0.7 * r {
		for k := range 24 {
			sin, cos := math.Sincos(math.Pi/4 + 2*math.Pi*float64(k)/24)
			dir := geometry.Pt(cos, -sin)
			at := foot.Add(dir.Mul(d))
			if !s.Free(at, r) || off && s.OnLine(at, r) || !s.FreeLine(foot.Add(dir.Mul(2*Cell)), at) {
				continue
			}
			sum := d
			if cost != nil {
				s.disc(at, r, func(i int) bool { sum += cost(i); return true })
			}
			if sum < least {
				best, least = at, sum
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// OnLine reports whether a line of the work runs through a disc.
func (s *Spots) OnLine(q geometry.Point, r float64) bool {
	return !s.Cells(q, r, func(i int) bool { return !s.lined[i] })
}
