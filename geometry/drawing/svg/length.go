package svg

import (
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// absolute returns the pixels in one unit, and false for a unit that depends
// on something: CSS Values 3, section 6.2.
func absolute(unit string) (float64, bool) {
	switch unit {
	case "px":
		return 1, true
	case "in":
		return 96, true
	case "cm":
		return 96 / 2.54, true
	case "mm":
		return 96 / 25.4, true
	case "q":
		return 96 / 101.6, true
	case "pt":
		return 96.0 / 72, true
	case "pc":
		return 16, true
	}
	return 0, false
}

// length is a number with its unit in lower case; the unit is empty for user
// units and "%" for a part of the viewport.
type length struct {
	value float64
	unit  string
}

// parseLength reads a length and reports whether it is one.
func parseLength(s string) (length, bool) {
	s = strings.TrimSpace(s)
	v, end, ok := number(s, 0)
	if !ok {
		return length{}, false
	}
	unit := strings.ToLower(s[end:])
	switch unit {
	case "", "%", "em", "ex", "rem", "ch", "vw", "vh", "vmin", "vmax":
		return length{v, unit}, true
	}
	_, known := absolute(unit)
	return length{v, unit}, known
}

// physical reports whether the length is in a unit of the real world. A pixel
// is none: too many programs write points or millimetres as pixels.
func (l length) physical() bool {
	_, known := absolute(l.unit)
	return known && l.unit != "px"
}

// number reads the SVG number that begins at i.
func number(s string, i int) (v float64, end int, ok bool) {
	end = geometry.ScanNumber(s, i)
	if end == i {
		return 0, i, false
	}
	v, err := strconv.ParseFloat(s[i:end], 64)
	return v, end, err == nil
}

// numbers reads a list of numbers parted by spaces or commas. It stops at the
// first thing that is none and reports whether it reached the end.
func numbers(b *budget.Budget, s string) (all []float64, whole bool) {
	i := skip(s, 0)
	for i < len(s) {
		b.Step()
		v, end, ok := number(s, i)
		if !ok {
			return all, false
		}
		all = append(all, v)
		i = skip(s, end)
		if i < len(s) && s[i] == ',' {
			i = skip(s, i+1)
			if i == len(s) {
				return all, false
			}
		}
	}
	return all, true
}

func skip(s string, i int) int {
	for i < len(s) && strings.IndexByte(" \t\r\n\f", s[i]) >= 0 {
		i++
	}
	return i
}

// axis says what a percentage is a part of.
type axis uint8

const (
	across   axis = iota // the width of the viewport
	along                // its height
	diagonal             // √((w²+h²)/2): SVG 2, Units
)

// viewport is the size, in user units, of the nearest viewport.
type viewport struct {
	w, h  float64
	known bool
}

func (v viewport) side(a axis) float64 {
	switch a {
	case across:
		return v.w
	case along:
		return v.h
	}
	return math.Sqrt((v.w*v.w + v.h*v.h) / 2)
}

// measure turns lengths into user units at one place in the file.
type measure struct {
	view, root viewport // nearest and outermost
	font       float64  // font size in user units
	rootFont   float64
	unknown    *bool // set where a percentage had nothing to be a part of
}

func (m measure) px(l length, a axis) float64 {
	if k, ok := absolute(l.unit); ok {
		return l.value * k
	}
	switch l.unit {
	case "em":
		return l.value * m.font
	case "ex", "ch": // half the font size where the face is not known: CSS Values 3, section 6.1.1
		return l.value * m.font / 2
	case "rem":
		return l.value * m.rootFont
	case "%":
		*m.unknown = *m.unknown || !m.view.known
		return l.value / 100 * m.view.side(a)
	case "vw", "vh", "vmin", "vmax":
		*m.unknown = *m.unknown || !m.root.known
		return l.value / 100 * m.root.part(l.unit)
	}
	return l.value
}

func (v viewport) part(unit string) float64 {
	switch unit {
	case "vw":
		return v.w
	case "vh":
		return v.h
	case "vmin":
		return math.Min(v.w, v.h)
	}
	return math.Max(v.w, v.h)
}
