package mend

import (
	"knifedesk/geometry"
)

// flatMM is the chord tolerance with which crossings are looked for.
const flatMM = 0.01

// flatten appends the ends of the chords of p to pts.
func (p piece) flatten(pts []geometry.Point) []geometry.Point {
	return p.seg.AppendFlat(append(pts, p.from), p.from, flatMM)
}

// crossedAt returns the parameters of the chord at which b crosses or touches
// it.
func (c *chain) crossedAt(chord, b piece) []float64 {
	var at []float64
	near := chord.box().Grow(touchMM)
	pts := b.flatten(nil)
	c.effort.spend(len(pts) - 1)
	for i := 1; i < len(pts); i++ {
		if !near.Overlaps(geometry.BoxAround(pts[i-1], pts[i])) {
			continue
		}
		if t, _, ok := meet(chord.from, chord.seg.End, pts[i-1], pts[i]); ok {
			at = append(at, t)
		}
	}
	return at
}

// meet returns the parameters at which the segments ab and cd cross or touch.
// Parallel segments do not meet.
func meet(a, b, c, d geometry.Point) (t, u float64, ok bool) {
	ab, cd, ac := b.Sub(a), d.Sub(c), c.Sub(a)
	det := ab.Cross(cd)
	if det == 0 {
		return 0, 0, false
	}
	t, u = ac.Cross(cd)/det, ac.Cross(ab)/det
	slackT, slackU := touchMM/ab.Norm(), touchMM/cd.Norm()
	ok = t >= -slackT && t <= 1+slackT && u >= -slackU && u <= 1+slackU
	return clamp01(t), clamp01(u), ok
}
