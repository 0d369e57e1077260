package size

import (
	"math"

	"knifedesk/geometry/number"
)

// Lengths are told as the person who drew sees them: in the numbers of the
// file, with the unit that these have.

// flatShare is the part of its longer extent below which the shorter one of a
// drawing tells nothing of its size: no ruler reads it (common practice, no
// source).
const flatShare = 1e-3

// flat reports whether an extent is nothing against the other one.
func flat(extent, other float64) bool { return extent <= flatShare*other }

// extent says how large something of w by h is; a straight line has only a
// length.
func extent(w, h float64, unit string) string {
	switch {
	case flat(h, w):
		return short(w) + " " + unit + " long"
	case flat(w, h):
		return short(h) + " " + unit + " long"
	}
	return short(w) + " × " + short(h) + " " + unit
}

// workText says how large the finished work is, as a ruler shows it.
func workText(w, h float64) string {
	if flat(w, h) || flat(h, w) {
		return number.People(math.Max(w, h)) + " mm long"
	}
	return number.People(w) + " × " + number.People(h) + " mm"
}

// number turns drawing units into the numbers of the file.
func (j *judge) number(units float64) float64 { return units / j.perNumber() }

// numberUnit names the unit of the numbers in the file.
func (j *judge) numberUnit() string {
	if j.drawing.Unit.Name == "none" {
		return "drawing units"
	}
	return j.file.words
}

// asDrawn prints a length in drawing units as the file has it.
func (j *judge) asDrawn(units float64) string {
	return short(j.number(units)) + " " + j.numberUnit()
}

// sidesDrawn prints the sides of the frame as the file has them.
func (j *judge) sidesDrawn(f *framed) string {
	return short(j.number(f.u)) + " × " + j.asDrawn(f.v)
}

// perNumberMM prints what one unit of the file's numbers is by a factor.
func (j *judge) perNumberMM(factor float64) string {
	return number.Significant(factor*j.perNumber(), 6) + " mm for one unit of the file's numbers"
}

// short prints a length with as many digits as a person compares.
func short(v float64) string {
	if math.Abs(v) < 0.1 {
		return number.Significant(v, 3)
	}
	return number.Text(math.Round(v*1000)/1000, 3) // halves go up, as on a ruler
}
