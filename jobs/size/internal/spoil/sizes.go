package spoil

import "math"

// sheet is a size by name, in mm, the shorter side first.
type sheet struct {
	name string
	w, h float64
}

// seriesA are the rounded sizes of ISO 216 that a workshop meets (check-values
// row 10).
func seriesA() []sheet {
	return []sheet{
		{"A0", 841, 1189}, {"A1", 594, 841}, {"A2", 420, 594}, {"A3", 297, 420},
		{"A4", 210, 297}, {"A5", 148, 210}, {"A6", 105, 148},
	}
}

// others are sizes of other series: ISO 216 series B, and the inch sizes
// (ANSI/ASME Y14.1 and common practice).
func others() []sheet {
	return []sheet{
		{"B3", 353, 500}, {"B4", 250, 353}, {"B5", 176, 250},
		{"Letter", 215.9, 279.4}, {"Legal", 215.9, 355.6},
	}
}

// every lists all sizes that a rectangle could be taken for, more than any
// repair has to know, so that a case is called clear only if it is.
func every() []sheet {
	return append(append(seriesA(), others()...),
		sheet{"A7", 74, 105}, sheet{"A8", 52, 74}, sheet{"B0", 1000, 1414}, sheet{"B1", 707, 1000},
		sheet{"B2", 500, 707}, sheet{"B6", 125, 176}, sheet{"Tabloid", 279.4, 431.8}, sheet{"Executive", 184.15, 266.7},
		sheet{"Statement", 139.7, 215.9})
}

// unit is how the numbers of a file can be meant.
type unit string

// The units; old is the pixel of older vector files.
const (
	millimetre unit = "mm"
	centimetre unit = "cm"
	metre      unit = "m"
	inch       unit = "in"
	point      unit = "pt"
	pixel      unit = "px"
	old        unit = "px of 1/90 in"
	silent     unit = "" // the file says nothing
)

// mm returns the mm in one of the unit: CSS Values and Units; the pixel of 1/90
// inch is common practice. A silent file is read in mm.
func (u unit) mm() float64 {
	switch u {
	case centimetre:
		return 10
	case metre:
		return 1000
	case inch:
		return 25.4
	case point:
		return 25.4 / 72
	case pixel:
		return 25.4 / 96
	case old:
		return 25.4 / 90
	}
	return 1
}

// stated reports whether the file itself says what its numbers are: pixels
// are what a file without a unit is drawn in.
func (u unit) stated() bool { return u != silent && u != pixel }

// factors lists the mm for one number that have a name where the header says u.
func factors(u unit) []float64 {
	all := []float64{u.mm()}
	for _, meant := range [...]unit{millimetre, centimetre, inch, metre, point, pixel, old} {
		all = append(all, meant.mm(), u.mm()*meant.mm(), u.mm()/meant.mm())
	}
	for _, k := range [...]float64{96.0 / 72, 96.0 / 90, 2.54, 100} {
		all = append(all, u.mm()*k, u.mm()/k)
	}
	return all
}

// reading is a named size and factor that explain a rectangle.
type reading struct {
	sheet  sheet
	factor float64
	left   float64 // mm on the worse side
}

// readings lists what explains a rectangle of w by h mm, as drawn in truth and
// stretched by sx and sy, within that many mm. Of one factor the first counts.
func (m *maker) readings(w, h, within float64) []reading {
	a, b := w*m.sx/m.mmPer, h*m.sy/m.mmPer
	short, long := math.Min(a, b), math.Max(a, b)
	sizes := append(every(), sheet{"stock", math.Min(m.stock.WidthMM, m.stock.LengthMM), math.Max(m.stock.WidthMM, m.stock.LengthMM)})
	var out []reading
	for _, p := range sizes {
		for _, k := range factors(m.unit) {
			left := math.Max(math.Abs(short*k-p.w), math.Abs(long*k-p.h))
			if left <= within && !has(out, k) {
				out = append(out, reading{p, k, left})
			}
		}
	}
	return out
}

func has(all []reading, k float64) bool {
	for _, r := range all {
		if same(r.factor, k) {
			return true
		}
	}
	return false
}

func same(a, b float64) bool { return math.Abs(a/b-1) < 1e-6 }
