package size

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/workshop"
)

// named is a size a frame may have by name, in mm, short side first.
type named struct {
	name        string
	short, long float64
	sheet       bool // the size of the stock's own sheet
}

// isoSizes are the rounded sizes of ISO 216, series A. The ideal ratio √2 and
// the paper tolerances of the standard are never used to match a frame: they
// are 30 times coarser than the size has to be.
func isoSizes() []named {
	return []named{
		{name: "A0", short: 841, long: 1189},
		{name: "A1", short: 594, long: 841},
		{name: "A2", short: 420, long: 594},
		{name: "A3", short: 297, long: 420},
		{name: "A4", short: 210, long: 297},
		{name: "A5", short: 148, long: 210},
		{name: "A6", short: 105, long: 148},
	}
}

// sizesOf lists the sizes a frame is compared with: ISO 216, the stock's own
// sheet, then the workshop's sheets. A size that repeats an earlier one is left
// out; the mark of the stock's sheet goes over to the earlier one.
func sizesOf(req Request) []named {
	sizes := isoSizes()
	if own, ok := ownSheet(req.Stock); ok {
		sizes = addSize(sizes, own)
	}
	for _, s := range req.Sheets {
		if s.ShortMM > 0 && s.LongMM > 0 {
			sizes = addSize(sizes, sized(s.Name, s.ShortMM, s.LongMM))
		}
	}
	return sizes
}

func addSize(sizes []named, s named) []named {
	for i, old := range sizes {
		if old.short == s.short && old.long == s.long {
			sizes[i].sheet = old.sheet || s.sheet
			return sizes
		}
	}
	return append(sizes, s)
}

// ownSheet returns the size of the stock's sheet; rolls have none.
func ownSheet(s workshop.Stock) (named, bool) {
	if s.Form == workshop.Roll || s.WidthMM <= 0 || s.LengthMM <= 0 {
		return named{}, false
	}
	own := sized(s.NamedSize, s.WidthMM, s.LengthMM)
	own.sheet = true
	return own, true
}

// sized returns the size of a × b mm, named by its measures where it has no
// name of its own.
func sized(name string, a, b float64) named {
	n := named{name: name, short: math.Min(a, b), long: math.Max(a, b)}
	if n.name == "" {
		n.name = fmt.Sprintf("%s×%s", number.Exact(n.short), number.Exact(n.long))
	}
	return n
}

// declaredSize reads what the caller says the frame is: a named size of the
// list, case ignored, or two lengths in mm such as "210x297".
func declaredSize(text string, sizes []named) (named, error) {
	text = strings.TrimSpace(text)
	for _, s := range sizes {
		if strings.EqualFold(s.name, text) {
			return s, nil
		}
	}
	fields := strings.FieldsFunc(strings.TrimSuffix(text, "mm"), func(r rune) bool { return r == 'x' || r == 'X' || r == '×' })
	if len(fields) == 2 {
		a, errA := strconv.ParseFloat(strings.TrimSpace(fields[0]), 64)
		b, errB := strconv.ParseFloat(strings.TrimSpace(fields[1]), 64)
		if errA == nil && errB == nil && a > 0 && b > 0 && !math.IsInf(a, 0) && !math.IsInf(b, 0) {
			return sized("", a, b), nil
		}
	}
	return named{}, &RequestError{Field: "frame", Value: text, Reason: "is neither a size known here, such as A4, nor two lengths in mm, such as 210x297"}
}

// along returns the sides of the size along two axes of which the first is the
// longer one or not.
func (n named) along(firstLonger bool) [2]float64 {
	if firstLonger {
		return [2]float64{n.long, n.short}
	}
	return [2]float64{n.short, n.long}
}
