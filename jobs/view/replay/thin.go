package replay

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// What bounds a replay: about a megabyte as JSON.
const (
	MostMarks = 40_000
	MostLines = 6_000
)

// Tolerances in mm: finest is what nobody sees on a screen; rounded is how far the two
// decimals that a mark is written with, and the corners that the machine rounds off
// (see motion), take it from the line at most.
const (
	finest  = 0.05
	rounded = 0.0075 + 2*geometry.DefaultChord
)

// thinning keeps the lines of a replay within the bounds. It leaves marks out within a
// tolerance that doubles as often as it must, up to what is seen at the size of the load,
// and then every other line.
type thinning struct {
	lines  []Line
	marks  int
	step   float64 // the tolerance by now
	most   float64
	within float64 // that of all that was left out, one tolerance upon the other
	eachOf int
	next   int // of the lines that come, counted from 0
}

func newThinning(width, length float64) *thinning {
	return &thinning{step: finest, most: math.Max(finest, math.Hypot(width, length)/1000), within: finest, eachOf: 1}
}

// add takes a line, if it is one of those that are kept.
func (t *thinning) add(b *budget.Budget, l Line) {
	if t.next++; (t.next-1)%t.eachOf != 0 {
		return
	}
	l.Marks = thinned(b, l.Marks, t.within)
	t.lines = append(t.lines, l)
	t.marks += len(l.Marks)
	for t.marks > MostMarks || len(t.lines) > MostLines {
		if t.marks > MostMarks && (2*t.step <= t.most || len(t.lines) == 1) {
			t.coarsen(b)
		} else {
			t.halve()
		}
	}
}

// coarsen thins what is there by twice the tolerance of now.
func (t *thinning) coarsen(b *budget.Budget) {
	t.step *= 2
	t.within += t.step
	t.marks = 0
	for i := range t.lines {
		t.lines[i].Marks = thinned(b, t.lines[i].Marks, t.step)
		t.marks += len(t.lines[i].Marks)
	}
}

// halve leaves every other line out, beginning with the second.
func (t *thinning) halve() {
	kept := t.lines[:0]
	t.marks = 0
	for i, l := range t.lines {
		if i%2 == 0 {
			kept = append(kept, l)
			t.marks += len(l.Marks)
		}
	}
	clear(t.lines[len(kept):])
	t.lines, t.eachOf = kept, 2*t.eachOf
}

// chunk bounds how many marks are compared with one chord.
const chunk = 400

// thinned leaves marks out so that who goes evenly from one that stays to the next is,
// at the time of each that is left out, within mm of it (Douglas and Peucker's way, with
// the distance taken at equal times).
func thinned(b *budget.Budget, marks []Mark, mm float64) []Mark {
	keep := make([]bool, len(marks))
	for lo := 0; lo < len(marks)-1; lo += chunk {
		hi := min(lo+chunk, len(marks)-1)
		keep[lo], keep[hi] = true, true
		split(b, marks, keep, lo, hi, mm)
	}
	out := make([]Mark, 0, 8)
	for i, k := range keep {
		if k {
			out = append(out, marks[i])
		}
	}
	return out
}

func split(b *budget.Budget, marks []Mark, keep []bool, lo, hi int, mm float64) {
	b.Spend(hi - lo)
	far, at := mm, -1
	for i := lo + 1; i < hi; i++ {
		if d := off(marks[lo], marks[hi], marks[i]); d > far {
			far, at = d, i
		}
	}
	if at < 0 {
		return
	}
	keep[at] = true
	split(b, marks, keep, lo, at, mm)
	split(b, marks, keep, at, hi, mm)
}

// off is how far m lies from where one is at its time who goes evenly from p to q.
func off(p, q, m Mark) float64 {
	share := 0.0
	if q.S > p.S {
		share = (m.S - p.S) / (q.S - p.S)
	}
	return math.Hypot(m.X-p.X-share*(q.X-p.X), m.Y-p.Y-share*(q.Y-p.Y))
}
