package reading

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
	NoName        = "no_known_cause" // of a hypothesis whose factor has no name
)

// Unit is a unit of length as drawing programs use it.
type Unit struct {
	Name   string  // as callers and files write it
	Words  string  // in sentences
	MM     float64 // in one unit
	plural string  // in codes of causes
	metric bool    // of the units that rulers have
}

// units: the inch is 25.4 mm exactly, the point 1/72 inch, the pixel 1/96 inch
// (CSS Values and Units); the pixel of 1/90 inch is common practice in older
// vector files, no source.
func units() []Unit {
	return []Unit{
		{"mm", "mm", 1, "mm", true},
		{"pt", "points", 25.4 / 72, "points", false},
		{"px", "pixels", 25.4 / 96, "pixels", false},
		{"inch", "inches", 25.4, "inches", true},
		{"cm", "centimetres", 10, "centimetres", true},
		{"m", "metres", 1000, "metres", true},
		{"px90", "pixels of 1/90 inch", 25.4 / 90, "ninety", false},
	}
}

// callersUnits are those of units that a request may name.
const callersUnits = 6

// UnitNamed returns the unit that a request names so.
func UnitNamed(name string) (Unit, bool) {
	for _, u := range units()[:callersUnits] {
		if u.Name == name {
			return u, true
		}
	}
	return Unit{}, false
}

// unitOf returns the unit of that many mm; SameFactor allows for the rounding
// of a page size written in a file.
func unitOf(mm float64) (Unit, bool) {
	for _, u := range units() {
		if SameFactor(u.MM, mm) {
			return u, true
		}
	}
	return Unit{}, false
}

// SameFactor reports whether two factors are one, written with seven digits.
func SameFactor(a, b float64) bool { return math.Abs(a-b) <= 1e-7*math.Abs(b) }

// Cause is a named reason for a factor.
type Cause struct {
	Code   string
	Words  string  // "points read as mm"
	Factor float64 // mm for one drawing unit if it is the reason
	// Metric says that the units mixed up are such as rulers have: numbers that a
	// person types can be meant in either.
	Metric bool
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

// CausesFor lists the named reasons for a file that reads as u says: none,
// another unit taken for the file's, and one of the mixUps on top of the
// file's unit. Every factor is listed once, under its plainest reason.
func CausesFor(u drawing.Unit) []Cause {
	file := FileUnit(u)
	own := "the file's own unit, " + file.Words
	if !u.Declared {
		own = "the file states no unit, taken in " + file.Words
	}
	list := []Cause{{None, own, file.MM, false}}
	add := func(c Cause) {
		for _, old := range list {
			if SameFactor(old.Factor, c.Factor) {
				return
			}
		}
		list = append(list, c)
	}
	for _, meant := range units() {
		if mayMean(u, meant) {
			add(mixUp(meant, file, meant.MM/PerNumber(u)))
		}
	}
	for _, pair := range mixUps() {
		meant, taken := unitByName(pair[0]), unitByName(pair[1])
		add(mixUp(meant, taken, file.MM*meant.MM/taken.MM))
	}
	return list
}

// pageRounded is how far a page size that was written with few digits sets the
// unit of a file off: 8.27 in for 210 mm is 0.03 % (common practice, no source).
const pageRounded = 1e-3

// mayMean reports whether the numbers of the file may have been meant in a
// unit. A page that states its size and thereby gives them no common unit was
// scaled on purpose, unless its size is a rounded one.
func mayMean(u drawing.Unit, meant Unit) bool {
	mm := FileUnit(u).MM * PerNumber(u)
	_, known := unitOf(mm)
	return known || !u.Declared || PerNumber(u) == 1 || math.Abs(meant.MM/mm-1) <= pageRounded
}

func unitByName(name string) Unit {
	for _, u := range units() {
		if u.Name == name {
			return u
		}
	}
	return units()[0]
}

// FileUnit is the unit that the file's numbers have by its own reading, with
// the mm in one drawing unit; a page size can make it any.
func FileUnit(u drawing.Unit) Unit {
	mm := u.MM
	if !Usable(mm) {
		mm = 1
	}
	of := Unit{Words: fmt.Sprintf("units of %.6g mm", mm*PerNumber(u)), MM: mm, plural: "page_units"}
	if known, ok := unitOf(mm * PerNumber(u)); ok {
		of = known
		of.MM = mm
	}
	return of
}

// PerNumber is how many drawing units one unit of the numbers in the file is.
func PerNumber(u drawing.Unit) float64 {
	if Usable(u.PerNumber) {
		return u.PerNumber
	}
	return 1
}

func mixUp(meant, taken Unit, factor float64) Cause {
	code := meant.plural + "_read_as_" + taken.plural
	switch {
	case meant.Name == "px90" && taken.Name == "px":
		code = "ninety_read_as_ninety_six"
	case meant.Name == "px" && taken.Name == "px90":
		code = "ninety_six_read_as_ninety"
	}
	return Cause{code, meant.Words + " read as " + taken.Words, factor, meant.metric && taken.metric}
}

// CauseNamed returns the cause of that factor, if it has one.
func CauseNamed(causes []Cause, factor float64) (Cause, bool) {
	for _, c := range causes {
		if SameFactor(c.Factor, factor) {
			return c, true
		}
	}
	return Cause{}, false
}

// Usable reports whether a scale or a length can be reckoned with.
func Usable(v float64) bool {
	const most = 1e6 // mm, or mm for one unit
	return v > 0 && v <= most
}

// UnitRatio reports whether a scale is the ratio of two units, feet included,
// in which site plans are drawn.
func UnitRatio(scale float64) bool {
	const foot = 304.8 // mm
	if SameFactor(foot, scale) || SameFactor(1/foot, scale) {
		return true
	}
	for _, pair := range mixUps() {
		if SameFactor(unitByName(pair[0]).MM/unitByName(pair[1]).MM, scale) {
			return true
		}
	}
	return false
}
