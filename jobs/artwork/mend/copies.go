package mend

import (
	"knifedesk/jobs/artwork"
)

// withoutCopies takes out strokes that are another one over again, so that
// drawings that were pasted many times cost no more than one of them. It is what
// the sweep would do with them: all of a copy is cut already, by the other one or
// by what has taken over from that. It also returns the precedence of the strokes
// that are left. Copies with pieces that are no more than scraps are left to the
// sweep.
func withoutCopies(e *Effort, strokes []artwork.Stroke, lim Limits) (left []artwork.Stroke, order []int, gone removal) {
	order = ranked(e.steps(), strokes)
	copied := make([]bool, len(strokes))
	n := 0
	for k := 1; k < len(order); k++ {
		s, first := &strokes[order[k]], &strokes[order[k-1]]
		e.steps().Spend(1 + len(s.Path.Segments))
		if s.Operation != first.Operation || comparePaths(&s.Path, &first.Path) != 0 {
			continue
		}
		if long, ok := lengthOverScraps(e, s, lim); ok {
			copied[order[k]] = true
			n++
			gone.count++
			gone.saved.add(long)
			gone.taken.add(long)
			gone.places = append(gone.places, placeOf(s, s.Path.BoundsIn(e.steps())))
		}
	}
	if n == 0 {
		return strokes, order, gone
	}
	place, left := make([]int, len(strokes)), make([]artwork.Stroke, 0, len(strokes)-n)
	for i, s := range strokes {
		place[i] = len(left)
		if !copied[i] {
			left = append(left, s)
		}
	}
	kept := order[:0]
	for _, s := range order {
		if !copied[s] {
			kept = append(kept, place[s])
		}
	}
	return left, kept, gone
}

// lengthOverScraps returns the length of a stroke; ok is false where one of its
// pieces is no longer than a scrap.
func lengthOverScraps(e *Effort, s *artwork.Stroke, lim Limits) (long float64, ok bool) {
	from := s.Path.Start
	for _, seg := range s.Path.Segments {
		l := seg.LengthIn(e.steps(), from)
		if l <= lim.TinyMM {
			return 0, false
		}
		long, from = long+l, seg.End
	}
	return long, true
}
