package mend

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
)

// span is a stretch of a piece between two parameters.
type span struct{ lo, hi float64 }

// cover is a stretch of a piece that another piece runs along as well.
type cover struct {
	span
	by piece
}

// overlap appends to covers the stretches of b longer than least that run
// within tol of a.
//
// Where two curves run together, the stretch ends where one of the two ends,
// so the only parameters to look at are b's own ends and the feet of a's ends.
// Between two of them the curves run together if they do at samples.
//
//	a   o─────────────o
//	b        o─────────────o
//	         ^        ^        the stretch of b
func overlap(covers []cover, b, a *piece, tol, least float64) []cover {
	if a.straight() && b.straight() && across(a, b) {
		return covers
	}
	var at [4]float64
	cuts := at[:0]
	for t := 0.0; t <= 1; t++ {
		if _, d, ok := a.footWithin(b.at(t), tol); ok && d <= tol {
			cuts = append(cuts, t)
		}
		if u, d, ok := b.footWithin(a.at(t), tol); ok && d <= tol {
			cuts = append(cuts, u)
		}
	}
	if len(cuts) < 2 {
		return covers
	}
	slices.Sort(cuts)
	length := b.length()
	for i := 1; i < len(cuts); i++ {
		s := span{cuts[i-1], cuts[i]}
		if (s.hi-s.lo)*length > least && alongside(b, a, s, tol) {
			covers = append(covers, cover{s, *a})
		}
	}
	return covers
}

// skew is the sine of the greatest angle between lines that run side by side.
const skew = 0.25

// alongside reports whether the stretch s of b runs within tol of a and the
// same way as a, or straight against it.
func alongside(b, a *piece, s span, tol float64) bool {
	const samples = 8
	step := 1
	if a.straight() && b.straight() {
		step = samples / 2 // the distance is linear: the middle is enough
	}
	for i := step; i < samples; i += step {
		t := s.lo + (s.hi-s.lo)*float64(i)/samples
		u, d, ok := a.foot(b.at(t))
		if !ok || d > tol || math.Abs(a.tangent(u).Cross(b.tangent(t))) > skew {
			return false
		}
	}
	return true
}

// across reports whether straight pieces stand at an angle to each other.
func across(a, b *piece) bool { return math.Abs(a.tangent(0).Cross(b.tangent(0))) > skew }

// left returns the stretches of a piece of the given length that covers leave
// over, and the covers merged in order. Scraps shorter than scrap are covered
// with what is beside them.
func left(b *budget.Budget, covers []cover, length, scrap float64) []span {
	slices.SortFunc(covers, func(c, d cover) int {
		b.Step()
		return cmp.Or(cmp.Compare(c.lo, d.lo), cmp.Compare(c.hi, d.hi))
	})
	var spans []span
	at := 0.0
	for _, c := range covers {
		if (c.lo-at)*length > scrap {
			spans = append(spans, span{at, c.lo})
		}
		at = math.Max(at, c.hi)
	}
	if (1-at)*length > scrap {
		spans = append(spans, span{at, 1})
	}
	return spans
}
