package view

import (
	"context"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"knifedesk/geometry/figure"
)

// Sizes of letters in points, and the lines they stand on in mm.
const (
	bodySize, bodyLine   = 9.0, 4.3
	smallSize, smallLine = 7.2, 3.3
	bigSize              = 21.0 // whose digits are over 5 mm high: read from a metre away
)

// pen writes on a page in the order of the work.
type pen struct {
	*fpdf.Fpdf
	ctx  context.Context // ends what is drawn
	y    float64         // where the next line starts, in mm
	step int             // the number of the last step

	// Where the page is full, in mm, and what then begins another; 0: nothing does.
	bottom float64
	turn   func() error
}

// room begins another page where this one has no room for so many mm. Letters of the
// body's size are set afterwards where it did.
func (s *pen) room(height float64) {
	if s.bottom > 0 && s.y+height > s.bottom {
		s.SetError(s.turn())
		s.text(bodySize, false)
	}
}

func (s *pen) text(size float64, bold bool) {
	weight := ""
	if bold {
		weight = "B"
	}
	s.SetFont("go", weight, size)
}

// line writes one line of text at x, shortened to the width, and moves on.
func (s *pen) line(x, width, height float64, text string) {
	s.SetXY(x, s.y)
	s.CellFormat(width, height, s.fit(written(text), width), "", 0, "L", false, 0, "")
	s.y += height
}

// lines writes a text at x in as many lines as it takes.
func (s *pen) lines(x, width, height float64, text string) {
	for _, l := range s.SplitText(written(text), width) {
		s.line(x, width, height, l)
	}
}

// heading begins the next step of the work, as wide as its text may be.
func (s *pen) heading(width float64, text string) {
	s.step++
	s.room(1.6 + 0.6 + 5.4 + 2*bodyLine) // with what stands under it
	s.y += 1.6
	s.SetLineWidth(0.3)
	s.Line(sheetMargin, s.y, sheetMargin+width, s.y)
	s.y += 0.6
	s.text(11, true)
	s.SetXY(sheetMargin, s.y)
	s.CellFormat(6, 5.4, strconv.Itoa(s.step), "", 0, "L", false, 0, "")
	s.line(sheetMargin+6, width-6, 5.4, text)
}

// fact writes a label with what belongs to it.
func (s *pen) fact(width float64, label, text string) {
	const labels = 18.0
	s.room(2 * bodyLine)
	s.text(bodySize, true)
	s.SetXY(sheetMargin+6, s.y)
	s.CellFormat(labels, bodyLine, label, "", 0, "L", false, 0, "")
	s.text(bodySize, false)
	s.lines(sheetMargin+6+labels, width-6-labels, bodyLine, text)
}

// tick writes something to do behind a box that is ticked off.
func (s *pen) tick(width float64, text string) {
	const side = 3.0
	s.text(bodySize, false)
	s.room(float64(len(s.SplitText(written(text), width-8-side))) * bodyLine)
	s.SetLineWidth(0.25)
	s.Rect(sheetMargin+6, s.y+0.6, side, side, "D")
	s.lines(sheetMargin+6+side+2, width-8-side, bodyLine, text)
}

// fit shortens a text to a width in mm.
func (s *pen) fit(text string, width float64) string {
	if s.GetStringWidth(text) <= width {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && s.GetStringWidth(string(runes)+"…") > width {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// prints reports whether the sheet's letters have all of a text. The library fails on
// letters past U+FFFF.
func prints(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return !figure.Writes(r) || r > 0xffff })
}

// written puts a question mark for each letter that the font lacks.
func written(text string) string {
	return strings.Map(func(r rune) rune {
		if !prints(string(r)) {
			return '?'
		}
		return r
	}, text)
}

// legible returns the first of several names that is there and can be printed.
func legible(names ...string) string {
	for _, n := range names {
		if n != "" && prints(n) {
			return n
		}
	}
	return ""
}
