package size

import (
	"fmt"
	"math"

	"knifedesk/geometry/drawing"
)

// Codes of causes that no mix-up of units stands behind. A mix-up is named
// for what it took for what: points_read_as_mm, ninety_read_as_ninety_six.
const (
	None          = "none"           // the file's own reading is the true size
	DeclaredFrame = "declared_frame" // the factor has no name; the frame was declared
	DeclaredUnit  = "declared_unit"  // by the file's header, or by the caller
	DeclaredScale = "declared_scale"
	KnownLengthIs = "known_length"
	Answered      = "answered"       // the factor has no name; a person chose it
	Stretched     = "stretched"      // each axis has a factor of its own, chosen by a person
	Unsettled     = "unsettled"      // a question is open; the file's own reading stands in
	noName        = "no_known_cause" // of a hypothesis whose factor has no name
)

// A unit of length as drawing programs use it.
type unit struct {
	name   string  // as callers and files write it
	plural string  // in codes of causes
	words  string  // in sentences
	mm     float64 // in one unit
}

// units: the inch is 25.4 mm exactly, the point 1/72 inch, the pixel 1/96 inch
// (CSS Values and Units); the pixel of 1/90 inch is common practice in older
// vector files, no source.
func units() []unit {
	return []unit{
		{"mm", "mm", "mm", 1},
		{"pt", "points", "points", 25.4 / 72},
		{"px", "pixels", "pixels", 25.4 / 96},
		{"inch", "inches", "inches", 25.4},
		{"cm", "centimetres", "centimetres", 10},
		{"m", "metres", "metres", 1000},
		{"px90", "ninety", "pixels of 1/90 inch", 25.4 / 90},
	}
}

// callersUnits are those of units that a request may name.
const callersUnits = 6

func unitNamed(name string) (unit, bool) {
	for _, u := range units()[:callersUnits] {
		if u.name == name {
			return u, true
		}
	}
	return unit{}, false
}

// unitOf returns the unit of that many mm; sameFactor allows for the rounding
// of a page size written in a file.
func unitOf(mm float64) (unit, bool) {
	for _, u := range units() {
		if sameFactor(u.mm, mm) {
			return u, true
		}
	}
	return unit{}, false
}

// sameFactor reports whether two factors are one, written with seven digits.
func sameFactor(a, b float64) bool { return math.Abs(a-b) <= 1e-7*math.Abs(b) }

// cause is a named reason for a factor.
type cause struct {
	code   string
	words  string  // "points read as mm"
	factor float64 // mm for one drawing unit if it is the reason
}

// mixUps are the pairs of units that programs take for one another whatever
// the file says of itself: first the one that was meant.
func mixUps() [][2]string {
	return [][2]string{
		{"inch", "mm"}, {"mm", "inch"}, {"cm", "mm"}, {"mm", "cm"}, {"m", "mm"}, {"mm", "m"},
		{"pt", "mm"}, {"mm", "pt"}, {"px", "mm"}, {"mm", "px"}, {"pt", "px"}, {"px", "pt"},
		{"px90", "px"}, {"px", "px90"},
	}
}

// causesFor lists the named reasons for a file that reads as u says: none,
// another unit taken for the file's, and one of the mixUps on top of the
// file's unit. Every factor is listed once, under its plainest reason.
func causesFor(u drawing.Unit) []cause {
	file := fileUnit(u)
	own := "the file's own unit, " + file.words
	if !u.Declared {
		own = "the file states no unit, taken in " + file.words
	}
	list := []cause{{None, own, file.mm}}
	add := func(c cause) {
		for _, old := range list {
			if sameFactor(old.factor, c.factor) {
				return
			}
		}
		list = append(list, c)
	}
	for _, meant := range units() {
		if mayMean(u, meant) {
			add(mixUp(meant, file, meant.mm/perNumber(u)))
		}
	}
	for _, pair := range mixUps() {
		meant, taken := unitByName(pair[0]), unitByName(pair[1])
		add(mixUp(meant, taken, file.mm*meant.mm/taken.mm))
	}
	return list
}

// pageRounded is how far a page size that was written with few digits sets the
// unit of a file off: 8.27 in for 210 mm is 0.03 % (common practice, no source).
const pageRounded = 1e-3

// mayMean reports whether the numbers of the file may have been meant in a
// unit. A page that states its size and thereby gives them no common unit was
// scaled on purpose, unless its size is a rounded one.
func mayMean(u drawing.Unit, meant unit) bool {
	mm := fileUnit(u).mm * perNumber(u)
	_, known := unitOf(mm)
	return known || !u.Declared || perNumber(u) == 1 || math.Abs(meant.mm/mm-1) <= pageRounded
}

func unitByName(name string) unit {
	for _, u := range units() {
		if u.name == name {
			return u
		}
	}
	return units()[0]
}

// fileUnit is the unit that the file's numbers have by its own reading, with
// the mm in one drawing unit; a page size can make it any.
func fileUnit(u drawing.Unit) unit {
	mm := u.MM
	if !usable(mm) {
		mm = 1
	}
	of := unit{"", "page_units", fmt.Sprintf("units of %.6g mm", mm*perNumber(u)), mm}
	if known, ok := unitOf(mm * perNumber(u)); ok {
		of = known
		of.mm = mm
	}
	return of
}

// perNumber is how many drawing units one unit of the numbers in the file is.
func perNumber(u drawing.Unit) float64 {
	if usable(u.PerNumber) {
		return u.PerNumber
	}
	return 1
}

func mixUp(meant, taken unit, factor float64) cause {
	code := meant.plural + "_read_as_" + taken.plural
	switch {
	case meant.name == "px90" && taken.name == "px":
		code = "ninety_read_as_ninety_six"
	case meant.name == "px" && taken.name == "px90":
		code = "ninety_six_read_as_ninety"
	}
	return cause{code, meant.words + " read as " + taken.words, factor}
}

// causeNamed returns the cause of that factor, if it has one.
func causeNamed(causes []cause, factor float64) (cause, bool) {
	for _, c := range causes {
		if sameFactor(c.factor, factor) {
			return c, true
		}
	}
	return cause{}, false
}
