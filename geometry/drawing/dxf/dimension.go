package dxf

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry/drawing"
)

// dimension is what a DIMENSION says beside the groups that all entities have.
type dimension struct {
	to     point   // the second end of what is measured; the first is point 13
	words  string  // typed in place of the measure
	style  string  // in lower case
	factor float64 // on the measure, of this dimension alone; 0: that of its style
	named  int     // number of the style's variable whose value follows
}

// The kinds of dimensions that measure between two points (group 70).
const (
	dimensionTurned  = 0 // along group 50
	dimensionAligned = 1
	dimensionKinds   = 7
)

// factorVariable is the number of DIMLFAC, the factor on what is measured.
const factorVariable = 144

// point takes the groups 14, 24 and 34.
func (d *dimension) point(code int, v float64) { *d.to.axis(code/10 - 1) = v }

// own takes the groups by which one dimension departs from its style: the number
// of a variable, then its value. Other entities have none.
func (d *dimension) own(t *tag) {
	switch {
	case d == nil:
	case t.code == 1070:
		d.named, _ = t.int()
	case t.code == 1040:
		if v, how := t.float(); how != bad && d.named == factorVariable {
			d.factor = v
		}
		d.named = 0
	}
}

// maxMeasures bounds what is kept of dimensions.
const maxMeasures = 1000

// measure keeps what a dimension says, and of those that say just what is drawn the
// first: one such stands for all.
func (r placing) measure(e *entity) {
	d := e.dimension
	if d == nil || len(r.measures) == maxMeasures {
		return
	}
	along := d.to.add(e.at[3].mul(-1))
	var drawn float64
	switch e.whole[0] & dimensionKinds {
	case dimensionTurned:
		sin, cos := math.Sincos(e.angle[0] * math.Pi / 180)
		drawn = math.Abs(along.x*cos + along.y*sin)
	case dimensionAligned:
		drawn = math.Hypot(along.x, along.y)
	}
	m := drawing.Measure{Drawn: drawn}
	factor := d.factor
	if factor == 0 {
		factor = r.factors[d.style]
	}
	said := plainText(d.words)
	switch {
	case !(drawn > 0):
		return
	case said == "" || strings.Contains(said, "<>"): // the measure itself
		if factor <= 0 { // none, or one of the print layout
			factor = 1
		}
		m.Said = drawn * factor
	default:
		var ok bool
		if m.Said, m.Step, m.Unit, ok = typedLength(said); !ok {
			return
		}
	}
	if m.Plain() && slices.ContainsFunc(r.measures, drawing.Measure.Plain) {
		return
	}
	r.measures = append(r.measures, m)
}

// plainText returns a text without the codes of its typeface: a backslash and a
// letter up to a semicolon, and braces.
func plainText(s string) string {
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '{', '}':
		case '\\':
			end := strings.IndexByte(s[i:], ';')
			if end < 0 {
				return out.String()
			}
			i += end
		default:
			out.WriteByte(s[i])
		}
	}
	return strings.TrimSpace(out.String())
}

// typedLength reads a number with a unit or without one. A comma before three
// digits may part thousands, so that is no number here.
func typedLength(s string) (value, step float64, unit string, ok bool) {
	end := strings.IndexFunc(s, func(c rune) bool { return (c < '0' || c > '9') && c != '.' && c != ',' })
	if end < 0 {
		end = len(s)
	}
	unit, ok = map[string]string{"": "", "mm": "mm", "cm": "cm", "m": "m", "in": "inch", "inch": "inch", "inches": "inch", `"`: "inch"}[strings.ToLower(strings.TrimSpace(s[end:]))]
	whole, part, parted := strings.Cut(strings.Replace(s[:end], ",", ".", 1), ".")
	if !ok || whole == "" || parted && len(part) == 3 && strings.Contains(s[:end], ",") {
		return 0, 0, "", false
	}
	value, err := strconv.ParseFloat(whole+"."+part+"0", 64)
	return value, math.Pow10(-len(part)), unit, err == nil && value > 0
}
