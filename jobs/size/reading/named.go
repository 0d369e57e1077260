package reading

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/workshop"
)

// Named is a size a frame may have by name, in mm, short side first.
type Named struct {
	Name        string
	Short, Long float64
	Sheet       bool // the size of the stock's own sheet
	// Rare says that a rectangle is taken for the size only where it has its very
	// shape, and no size that is not rare explains it.
	Rare bool
}

// paperSizes are the rounded sizes of ISO 216, series A and B, and the letter
// and legal sizes of ANSI/ASME Y14.1 in inches. The ideal ratio √2 and the paper
// tolerances of the standard are never used to match a frame: they are 30 times
// coarser than the size has to be.
func paperSizes() []Named {
	sizes := []Named{
		{Name: "A0", Short: 841, Long: 1189},
		{Name: "A1", Short: 594, Long: 841},
		{Name: "A2", Short: 420, Long: 594},
		{Name: "A3", Short: 297, Long: 420},
		{Name: "A4", Short: 210, Long: 297},
		{Name: "A5", Short: 148, Long: 210},
		{Name: "A6", Short: 105, Long: 148},
		{Name: "Letter", Short: 215.9, Long: 279.4, Rare: true},
		{Name: "Legal", Short: 215.9, Long: 355.6, Rare: true},
	}
	sizes = append(sizes, Named{Name: "A7", Short: 74, Long: 105, Rare: true})
	for i, b := range [][2]float64{{1000, 1414}, {707, 1000}, {500, 707}, {353, 500}, {250, 353}, {176, 250}, {125, 176}} {
		sizes = append(sizes, Named{Name: fmt.Sprintf("B%d", i), Short: b[0], Long: b[1], Rare: true})
	}
	return sizes
}

// SizesOf lists the sizes a frame is compared with: paper, the stock's own
// sheet, then the workshop's sheets. A size that repeats an earlier one is left
// out; the mark of the stock's sheet goes over to the earlier one.
func SizesOf(stock workshop.Stock, sheets []workshop.NamedSize) []Named {
	sizes := paperSizes()
	if own, ok := ownSheet(stock); ok {
		sizes = AddSize(sizes, own)
	}
	for _, s := range sheets {
		if s.ShortMM > 0 && s.LongMM > 0 {
			sizes = AddSize(sizes, sized(s.Name, s.ShortMM, s.LongMM))
		}
	}
	return sizes
}

// AddSize adds a size to a list, once, and makes it one that is asked about by
// its shape too.
func AddSize(sizes []Named, s Named) []Named {
	for i, old := range sizes {
		if old.Same(s) {
			sizes[i].Sheet, sizes[i].Rare = old.Sheet || s.Sheet, false
			return sizes
		}
	}
	return append(sizes, s)
}

// ownSheet returns the size of the stock's sheet; rolls have none.
func ownSheet(s workshop.Stock) (Named, bool) {
	if s.Form == workshop.Roll || s.WidthMM <= 0 || s.LengthMM <= 0 {
		return Named{}, false
	}
	own := sized(s.NamedSize, s.WidthMM, s.LengthMM)
	own.Sheet = true
	return own, true
}

// nameDecimals are those of a mm in the name of a size: an inch ends after one.
const nameDecimals = 4

// sized returns the size of a × b mm, named by its measures where it has no
// name of its own.
func sized(name string, a, b float64) Named {
	n := Named{Name: name, Short: math.Min(a, b), Long: math.Max(a, b)}
	if n.Name == "" {
		n.Name = number.Text(n.Short, nameDecimals) + "×" + number.Text(n.Long, nameDecimals)
	}
	return n
}

// Declared reads what somebody says the frame is, and reports whether it can: a
// size of the list, case ignored, or two lengths such as "210x297", in mm, or
// with a unit at the end as in "8.5x11in".
func Declared(text string, sizes []Named) (Named, bool) {
	text = strings.TrimSpace(text)
	for _, s := range sizes {
		if strings.EqualFold(s.Name, text) {
			return s, true
		}
	}
	text = strings.ToLower(text)
	mm := 1.0
	for _, u := range lengthUnits() {
		if cut, ok := strings.CutSuffix(text, u.suffix); ok {
			text, mm = cut, u.mm
			break
		}
	}
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == 'x' || r == '×' })
	if len(fields) != 2 {
		return Named{}, false
	}
	a, okA := side(fields[0], mm)
	b, okB := side(fields[1], mm)
	if !okA || !okB {
		return Named{}, false
	}
	for _, s := range sizes {
		if one := sized("", a, b); math.Abs(one.Short-s.Short) < 1e-6 && math.Abs(one.Long-s.Long) < 1e-6 {
			return s, true
		}
	}
	return sized("", a, b), true
}

// A lengthUnit is how a unit is written behind a measure.
type lengthUnit struct {
	suffix string
	mm     float64
}

func lengthUnits() []lengthUnit {
	return []lengthUnit{{"mm", 1}, {"cm", 10}, {"inches", 25.4}, {"inch", 25.4}, {"in", 25.4}, {"\"", 25.4}, {"pt", 25.4 / 72}, {"px", 25.4 / 96}}
}

// side reads one side of a size.
func side(text string, mm float64) (float64, bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return v * mm, err == nil && v > 0 && !math.IsInf(v, 0)
}

// IsPage reports whether w × h mm is a size of the list, within what programs
// round the page of a file to.
func (c *Scales) IsPage(w, h float64) bool {
	_, ok := pageNamed(c.Sizes, w, h)
	return ok
}

func pageNamed(sizes []Named, w, h float64) (Named, bool) {
	for _, s := range sizes {
		if math.Abs(math.Min(w, h)-s.Short) <= RivalMM && math.Abs(math.Max(w, h)-s.Long) <= RivalMM {
			return s, true
		}
	}
	return Named{}, false
}

// Same reports whether two sizes have the same measures.
func (n Named) Same(o Named) bool { return n.Short == o.Short && n.Long == o.Long }

// Along returns the sides of the size along two axes of which the first is the
// longer one or not.
func (n Named) Along(firstLonger bool) [2]float64 {
	if firstLonger {
		return [2]float64{n.Long, n.Short}
	}
	return [2]float64{n.Short, n.Long}
}
