package mend

import (
	"knifedesk/geometry"
)

// flatMM is the chord tolerance with which crossings are looked for.
const flatMM = 0.01

// crossedAt returns the parameters of a at which b crosses or touches it.
func crossedAt(a, b piece) []float64 {
	if !a.box().Grow(touchMM).Overlaps(b.box()) {
		return nil
	}
	var at []float64
	pa := a.seg.AppendFlat([]geometry.Point{a.from}, a.from, flatMM)
	pb := b.seg.AppendFlat([]geometry.Point{b.from}, b.from, flatMM)
	for i := 1; i < len(pa); i++ {
		for j := 1; j < len(pb); j++ {
			if t, _, ok := meet(pa[i-1], pa[i], pb[j-1], pb[j]); ok {
				at = append(at, (float64(i-1)+t)/float64(len(pa)-1))
			}
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
