package size

import (
	"fmt"
	"math"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/number"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// Lengths are told as the person who drew sees them: in the numbers of the
// file, with the unit that these have, and in mm as a ruler shows them.

// flatShare is the part of its longer extent below which the shorter one of a
// drawing tells nothing of its size: no ruler reads it (common practice, no
// source).
const flatShare = 1e-3

// flat reports whether an extent is nothing against the other one.
func flat(extent, other float64) bool { return extent <= flatShare*other }

// extent says how large something of w by h is; a straight line has only a
// length.
func extent(w, h float64, unit string) string {
	if flat(w, h) || flat(h, w) {
		return number.People(math.Max(w, h)) + " " + unit + " long"
	}
	return number.People(w) + " × " + number.People(h) + " " + unit
}

// workText says how large the finished work is, as a ruler shows it.
func workText(w, h float64) string { return extent(w, h, "mm") }

// words tells lengths as they are drawn.
type words struct {
	unit drawing.Unit
	file reading.Unit
}

// number turns drawing units into the numbers of the file.
func (w words) number(units float64) float64 { return units / reading.PerNumber(w.unit) }

// numberUnit names the unit of the numbers in the file.
func (w words) numberUnit() string {
	if w.unit.Name == "none" {
		return "drawing units"
	}
	return w.file.Words
}

// asDrawn prints a length in drawing units as the file has it.
func (w words) asDrawn(units float64) string {
	return drawn(w.number(units)) + " " + w.numberUnit()
}

// sidesDrawn prints the sides of the frame as the file has them.
func (w words) sidesDrawn(f *evidence.Frame) string {
	return drawn(w.number(f.U)) + " × " + w.asDrawn(f.V)
}

// perNumberMM prints what one unit of the file's numbers is by a factor.
func (w words) perNumberMM(factor float64) string {
	return number.Significant(factor*reading.PerNumber(w.unit), 6) + " mm for one unit of the file's numbers"
}

// sentence says what a reading takes the frame for.
func (w words) sentence(f *evidence.Frame, r *reading.Reading) string {
	return fmt.Sprintf("The frame measures %s as drawn: %s, %s.", w.sidesDrawn(f), r.Size.Name, r.Words)
}

// drawn prints a length as a drawing program shows it.
func drawn(v float64) string {
	if math.Abs(v) < 0.1 {
		return number.Significant(v, 3)
	}
	return number.Text(math.Round(v*1000)/1000, 3) // halves go up, as on a ruler
}
