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

// Equal puts n equal rectangles on as few sheets as it finds a way to, and then
// on the least length of the last one, with a gap in mm between them. It returns
// false where not one fits.
func Equal(b *budget.Budget, piece, sheet Size, gapMM float64, n int, allowed Turns) (Arrangement, bool) {
	um := func(mm float64) int64 { return int64(math.Floor(mm*1000 + 0.5)) }
	w, h := max(1, um(piece.WidthMM+gapMM)), max(1, um(piece.LengthMM+gapMM))
	x, y := um(sheet.WidthMM+gapMM), um(sheet.LengthMM+gapMM)
	var found []Arrangement
	add := func(one Arrangement, ok bool) {
		if ok {
			found = append(found, one)
		}
	}
	if allowed.Straight {
		add(inRows(b, w, h, x, y, n, false))
	}
	if allowed.Quarter {
		add(inRows(b, w, h, x, y, n, true))
	}
	if allowed.Mixed {
		add(inTurns(b, w, h, x, y, n))
	}
	if len(found) == 0 {
		return Arrangement{}, false
	}
	best := found[0]
	for _, one := range found[1:] {
		if one.better(best) {
			best = one
		}
	}
	return best, true
}
