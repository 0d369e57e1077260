package mend

import (
	"math"

	"knifedesk/geometry"
)

// fit returns the bulge of the arc through the first, the middle and the last of
// the vertices, and whether the chords between them lie within arcMM of it.
//
// By the angle at the circumference, the arc turns from its first end to the
// last by twice the turn at the middle one, so that its bulge, the tangent of a
// quarter of the whole, is that of half the turn there.
func (f fitting) fit(vs []geometry.Point) (bulge float64, ok bool) {
	f.budget.Spend(1 + len(vs)/4)
	last := len(vs) - 1
	a, m, z := vs[0], vs[last/2], vs[last]
	u, v := m.Sub(a), z.Sub(m)
	bulge = math.Tan(math.Atan2(u.Cross(v), u.Dot(v)) / 2)
	if a == z || math.Abs(bulge) > 1 {
		return 0, false
	}
	s := geometry.ArcTo(bulge, z)
	if s.Straight() || math.Abs(bulge)*a.Dist(z)/2 <= straightMM { // the height of the arc over its chord
		return 0, false
	}
	c, r, _, _ := geometry.ArcCircle(a, s)
	for i, p := range vs {
		if math.Abs(p.Dist(c)-r) > arcMM {
			return 0, false
		}
		if i > 0 && r-nearestOf(vs[i-1], p, c) > arcMM {
			return 0, false
		}
	}
	return bulge, f.turnsOnce(vs)
}

// turnsOnce reports whether the chords turn by no more than half a circle: what
// winds round several times lies near one arc too.
func (f fitting) turnsOnce(vs []geometry.Point) bool {
	turned := 0.0
	for i := 2; i < len(vs); i++ {
		u, v := vs[i-1].Sub(vs[i-2]), vs[i].Sub(vs[i-1])
		turned += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return math.Abs(turned) <= math.Pi
}

// nearestOf returns how near the chord from a to b comes to c.
func nearestOf(a, b, c geometry.Point) float64 {
	d := b.Sub(a)
	t := clamp01(c.Sub(a).Dot(d) / d.Dot(d))
	return a.Add(d.Mul(t)).Dist(c)
}
