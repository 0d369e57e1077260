// Package nest lays rectangles out: how many equal ones fit on sheets or on a
// strip, in which places, and how large a rectangle is left free.
//
// A sheet is an area of a given width along x and length along y; a strip is one
// whose length does not matter. Sizes are rounded to whole micrometres.
package nest

import (
	"math"

	"knifedesk/geometry/budget"
)

// Size is the width of a rectangle along x and its length along y, in mm.
type Size struct{ WidthMM, LengthMM float64 }

// Turns says which of the two turns are allowed.
type Turns struct {
	Straight bool // as given
	Quarter  bool // by 90°
	Mixed    bool // both on one sheet
}

// Slot is the place of one rectangle: its lower left corner.
type Slot struct {
	XUM, YUM int64
	Turned   bool
}

// Arrangement is where rectangles lie: so many full sheets alike, and one more
// with the rest.
type Arrangement struct {
	Full, Rest []Slot
	FullSheets int
	FullUM     int64 // length used of a full sheet, with one gap too many at the end
	LengthUM   int64 // the same of the last sheet
	mixed      bool
}

// Sheets is how many sheets are used.
func (a Arrangement) Sheets() int {
	if len(a.Rest) > 0 {
		return a.FullSheets + 1
	}
	return a.FullSheets
}

// better reports whether a takes fewer sheets than b, or else less length of
// the last one, or else the same with all rectangles turned alike.
func (a Arrangement) better(b Arrangement) bool {
	switch {
	case a.Sheets() != b.Sheets():
		return a.Sheets() < b.Sheets()
	case a.LengthUM != b.LengthUM:
		return a.LengthUM < b.LengthUM
	}
	return !a.mixed && b.mixed
}

// shorter reports whether a takes less of a roll than b, with each µm for every run, or
// else is better.
func (a Arrangement) shorter(b Arrangement, each int64) bool {
	if x, y := a.drawn(each), b.drawn(each); x != y {
		return x < y
	}
	return a.better(b)
}

// drawn is the length of all runs, with each µm for every one.
func (a Arrangement) drawn(each int64) int64 {
	um := int64(a.FullSheets)*a.FullUM + int64(a.Sheets())*each
	if len(a.Rest) > 0 {
		um += a.LengthUM
	}
	return um
}

// Equal puts n equal rectangles on as few sheets as it finds a way to, and then
// on the least length of the last one, with a gap in mm between them. It returns
// false where not one fits.
func Equal(b *budget.Budget, piece, sheet Size, gapMM float64, n int, allowed Turns) (Arrangement, bool) {
	return best(b, piece, sheet, gapMM, n, allowed, Arrangement.better, nil)
}

// Runs puts n equal rectangles on runs of a roll, of at most a length, that take as little
// of it together as it finds a way to, where every run takes eachMM besides. It returns
// false where not one fits.
func Runs(b *budget.Budget, piece, run Size, gapMM, eachMM float64, n int, allowed Turns) (Arrangement, bool) {
	each := micro(max(0, eachMM))
	return best(b, piece, run, gapMM, n, allowed, func(one, than Arrangement) bool { return one.shorter(than, each) }, &each)
}

func micro(mm float64) int64 { return int64(math.Floor(mm*1000 + 0.5)) }

// best returns the best arrangement of those that are looked at, on sheets or, where each
// is given, on runs.
func best(b *budget.Budget, piece, sheet Size, gapMM float64, n int, allowed Turns, better func(one, than Arrangement) bool, each *int64) (Arrangement, bool) {
	w, h := max(1, micro(piece.WidthMM+gapMM)), max(1, micro(piece.LengthMM+gapMM))
	x, y := micro(sheet.WidthMM+gapMM), micro(sheet.LengthMM+gapMM)
	var found []Arrangement
	if allowed.Straight {
		found = append(found, inRows(b, w, h, x, y, n, false)...)
	}
	if allowed.Quarter {
		found = append(found, inRows(b, w, h, x, y, n, true)...)
	}
	if allowed.Mixed {
		found = append(found, inTurns(b, w, h, x, y, n, each)...)
	}
	if len(found) == 0 {
		return Arrangement{}, false
	}
	top := found[0]
	for _, one := range found[1:] {
		if better(one, top) {
			top = one
		}
	}
	return top, true
}
