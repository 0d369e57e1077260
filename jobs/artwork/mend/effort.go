package mend

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
)

// Effort bounds the work of looking at lines that lie over or near each other.
// It is counted in looks at a pair of lines, never in time, so that the same
// drawing ends alike on every machine. Once it is used up, every search finds
// nothing more and what the functions of this package return is of no use.
//
// A nil *Effort has no bound.
type Effort struct {
	all  int
	left int
	most int          // looks of the search that took most of them
	at   geometry.Box // where that search was
}

// The looks that lines may take: a share that dense places can use up, and
// what any drawing needs for each of its segments. With them a drawing of 1 MB
// ends within 2 s (measured by the tests on hostile lines).
const (
	looksAtAll      = 15_000_000
	looksPerSegment = 150
)

// NewEffort returns the effort that a drawing of so many segments may take.
func NewEffort(segments int) *Effort {
	all := looksAtAll + looksPerSegment*segments
	return &Effort{all: all, left: all, at: geometry.EmptyBox()}
}

// Crowd says that the effort is used up and where most of it went; nil where
// it is not.
func (e *Effort) Crowd() *Crowd {
	if !e.over() {
		return nil
	}
	return &Crowd{"lines over or near each other", e.all, e.at}
}

func (e *Effort) over() bool { return e != nil && e.left < 0 }

// spend takes n looks and reports whether they were there.
func (e *Effort) spend(n int) bool {
	if e == nil {
		return true
	}
	e.left -= n
	return e.left >= 0
}

// search notes that one search round a place took n looks.
func (e *Effort) search(n int, at geometry.Box) {
	if e != nil && n > e.most {
		e.most, e.at = n, at
	}
}

// looksToCompare is what it costs to find where two pieces run together: lines
// that stand across each other are done with at once, curves are searched.
func looksToCompare(a, b piece) int {
	switch {
	case a.seg.Kind == geometry.Cubic || b.seg.Kind == geometry.Cubic:
		return 20
	case !a.straight() || !b.straight():
		return 5
	case across(a, b):
		return 1
	}
	return 5
}

// Segments counts the segments of all strokes.
func Segments(strokes []artwork.Stroke) int {
	n := 0
	for i := range strokes {
		n += len(strokes[i].Path.Segments)
	}
	return n
}
