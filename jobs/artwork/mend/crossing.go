package mend

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// flatMM is the chord tolerance with which crossings are looked for.
const flatMM = 0.01

// flatten appends the ends of the chords of p to pts.
func (p piece) flatten(pts []geometry.Point) []geometry.Point {
	return p.seg.AppendFlat(append(pts, p.from), p.from, flatMM)
}

// tail returns how far e lies past the last crossing of its line with
// another, when that is within reach, else 0.
func (l *lines) tail(e end, reach float64) float64 {
	s := e.stroke()
	lo, hi := l.first[s], l.first[s+1]
	for i := range hi - lo {
		j := lo + i
		if e&1 == 1 {
			j = hi - 1 - i
		}
		at := l.behind(e, j)
		if at > reach {
			break
		}
		if d := at + l.crossing(e, j, reach-at); d <= reach {
			return d
		}
	}
	return 0
}

// crossing returns how far along piece j, from the side of e, another line
// first crosses or touches it; +Inf where none does within reach.
func (l *lines) crossing(e end, j int, reach float64) float64 {
	pts := l.pieces[j].flatten(nil)
	if e&1 == 1 {
		slices.Reverse(pts)
	}
	from := 0.0
	for i := 1; i < len(pts) && from <= reach; i++ {
		chord := piece{pts[i-1], geometry.LineTo(pts[i])}
		long := chord.length()
		if more := reach - from + 2*touchMM; more < long {
			chord = chord.part(0, more/long)
		}
		if d := from + l.crossingOf(e, j, chord, from); d <= reach {
			return d
		}
		from += long
	}
	return math.Inf(1)
}

// crossingOf is crossing for one chord of piece j that begins so far along it.
func (l *lines) crossingOf(e end, j int, chord piece, from float64) float64 {
	best := math.Inf(1)
	before, after := j-1, j+1 // as seen from e
	if e&1 == 1 {
		before, after = after, before
	}
	near, long := chord.box().Grow(touchMM), chord.length()
	l.effort.each(l.tree, near, func(k int) bool {
		o := l.owner[k]
		if k == j || !meets(l.strokes[o].Operation, l.strokes[e.stroke()].Operation) {
			return true
		}
		for _, t := range l.crossedAt(chord, l.pieces[k]) {
			d := t * long
			if o == e.stroke() && (k == before && from+d < flatMM || k == after && l.pieces[j].length()-from-d < flatMM) {
				continue // where the two follow each other
			}
			best = math.Min(best, d)
		}
		return true
	})
	return best
}

// crossedAt returns the parameters of the chord at which b crosses or touches
// it.
func (l *lines) crossedAt(chord, b piece) []float64 {
	var at []float64
	near := chord.box().Grow(touchMM)
	pts := b.flatten(nil)
	l.effort.spend(len(pts) - 1)
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
