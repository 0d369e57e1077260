package spoil

import (
	"strings"

	"knifedesk/geometry/number"
)

// The bounds of the decision rule, in mm at true size (design, "True size").
const (
	acceptMM = 0.05
	rivalMM  = 0.5
)

// namesOf are what a caller may call the page.
func namesOf(m *maker) []string {
	n := m.page.name
	all := []string{n, strings.ToLower(n), number.Exact(m.page.w) + "x" + number.Exact(m.page.h)}
	switch n {
	case "Letter":
		all = append(all, "8.5x11in")
	case "Legal":
		all = append(all, "8.5x14in")
	}
	return all
}

// judgePage writes down what the decision table says of a framed page of
// which the caller said nothing.
func judgePage(m *maker) {
	w, h := m.page.w, m.page.h
	sure, all := m.readings(w, h, acceptMM), m.readings(w, h, rivalMM)
	right := same(m.mmPer, m.unit.mm())
	off := m.offCut() || m.isSheet(w, h)
	switch {
	case len(sure) == 0 && m.unit.stated():
		m.is(MustAsk, "a unit is stated and the frame contradicts it without a named cause")
	case len(sure) == 0:
		m.is(MustAsk, "no unit, and a factor without a name")
	case !m.workFits():
		m.is(Decidable, "the work does not fit the stock")
	case m.unit.stated() && right && off:
		m.is(Clear, "a named size by the file's own unit, off the cut layers or equal to the sheet")
	case m.unit.stated() && right:
		m.is(Decidable, "a named size by the file's own unit, on a cut layer, with closed work in it")
	case !has(sure, m.mmPer):
		m.is(MustAsk, "another named cause fits better than the true one: %v", sure)
	case distinct(all) > 1:
		m.is(Decidable, "several named causes within %g mm: %v", rivalMM, all)
	case !off:
		m.is(Decidable, "one named cause, on a cut layer")
	case m.rounded > 0:
		m.is(Decidable, "one named cause, the corners of the frame rounded")
	case m.canvas > 0 && !m.onFrameLayer():
		m.is(Decidable, "one named cause, on a page that it does not fill")
	case m.unit.stated():
		judgeHeader(m)
	default:
		m.is(Clear, "no unit, one named cause, off the cut layers or equal to the sheet")
	}
}

// judgeHeader decides where the only named cause contradicts the header: one
// that explains it is mended; metric headers over numbers ten or more times
// too small are asked about.
func judgeHeader(m *maker) {
	onPaper := m.mmPer < m.unit.mm() // the header makes the page larger than it is
	switch {
	case m.unit == millimetre && m.mmPer >= 10:
		m.is(MustAsk, "the header says mm, and the frame fits as centimetres, inches or metres only")
	case m.unit == millimetre && (same(m.mmPer, point.mm()) || same(m.mmPer, pixel.mm())) && m.offCut():
		m.is(Clear, "points or pixels read as mm, off the cut layers")
	case m.mmPer == 1 && onPaper && m.offCut() && (m.unit == inch || m.unit == centimetre):
		m.is(Clear, "mm read as %s, off the cut layers", m.unit)
	default:
		m.is(Decidable, "one named cause against the header")
	}
}

// judgeDeclared writes down what the table says of a framed page of which the
// caller said something true.
func judgeDeclared(m *maker) {
	off := m.offCut() || m.isSheet(m.page.w, m.page.h)
	switch s := m.c.Choices.Size; {
	case !m.workFits():
		m.is(Decidable, "declared, and the work does not fit the stock")
	case s.Frame != "" && otherwise(m):
		m.is(Decidable, "the frame is declared, and another size fits by a named cause")
	case s.Frame != "":
		m.is(Clear, "the frame is declared")
	case s.Unit == "" && s.Scale == 0 && s.KnownLength == nil:
		judgePage(m)
	case off && m.offCut():
		m.is(Clear, "unit, scale or length declared, the frame off the cut layers")
	default:
		m.is(Decidable, "unit, scale or length declared, the frame on a cut layer")
	}
}

// otherwise reports whether a named cause makes another size of the frame.
func otherwise(m *maker) bool {
	for _, r := range m.readings(m.page.w, m.page.h, rivalMM) {
		if !same(r.factor, m.mmPer) {
			return true
		}
	}
	return false
}

func distinct(all []reading) int {
	var seen []reading
	for _, r := range all {
		if !has(seen, r.factor) {
			seen = append(seen, r)
		}
	}
	return len(seen)
}

func (m *maker) workFits() bool {
	b := m.cutBox()
	return m.fits(b.Width(), b.Height())
}
