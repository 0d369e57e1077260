package reading

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/number"
	"knifedesk/jobs/size/evidence"
)

// Dimensions is the code of the cause and the ID of the reading by which the
// dimensions in a drawing are right.
const Dimensions = "dimensions"

// Tale is what the dimensions of a drawing say of a factor.
type Tale int

// The tales.
const (
	Silent  Tale = iota // there are none, or one says the number that is drawn
	Agreed              // one of them names the length that is drawn
	Against             // all name others
)

// scalesOnPaper are those that drawings are made to, and their inverses (ISO 5455,
// with 1:2.5 and 1:25, which are common practice).
func scalesOnPaper() []float64 { return []float64{2, 2.5, 5, 10, 20, 25, 50, 100} }

// Told compares the dimensions of the drawing, as far as their text was typed or they
// count by a scale of their own, with k mm for one drawing unit. The reading of the work,
// unless they are silent, is that by which they are right.
func Told(c *Scales, w *evidence.Work, k float64) (Reading, Tale) {
	d := dimensions{c, w, k}
	all := c.Survey.Drawing.Measures
	tale := Silent
	for i := range all {
		switch m := &all[i]; {
		case m.Plain():
			return Reading{}, Silent
		case d.agrees(m):
			return d.reading(m, k), Agreed
		}
		tale = Against
	}
	if tale == Silent {
		return Reading{}, Silent
	}
	longest := slices.MaxFunc(all, func(a, b drawing.Measure) int { return cmp.Compare(a.Drawn, b.Drawn) })
	factor := longest.Said * d.unit(&longest) / longest.Drawn
	for _, s := range scalesOnPaper() {
		for _, ratio := range [2]float64{s, 1 / s} {
			if !slices.ContainsFunc(all, func(m drawing.Measure) bool { return !d.says(&m, k*ratio, d.unit(&m)) }) {
				factor = k * ratio
			}
		}
	}
	return d.reading(&longest, factor), Against
}

// dimensions are compared with work at k mm for one drawing unit.
type dimensions struct {
	*Scales
	work *evidence.Work
	k    float64
}

// reading is that of the work by a factor by which a dimension is right.
func (d dimensions) reading(m *drawing.Measure, factor float64) Reading {
	width, height := d.work.Size(factor)
	return Reading{
		ID: Dimensions, Cause: Dimensions, X: factor, Y: factor, FitsStock: Fits(d.Stock, width, height), Plausible: d.work.Plausible(factor),
		Words: fmt.Sprintf("a dimension says %s mm where %s mm are drawn", number.People(m.Said*d.unit(m)), number.People(m.Drawn*d.k)),
	}
}

// unit is the mm in the unit of what a measure says: that of the file where it names none.
func (d dimensions) unit(m *drawing.Measure) float64 {
	if u, ok := UnitNamed(m.Unit); ok {
		return u.MM
	}
	return d.File.MM * PerNumber(d.Survey.Drawing.Unit)
}

// agrees reports whether a measure names what is drawn. A number without a unit may be in
// any that rulers have.
func (d dimensions) agrees(m *drawing.Measure) bool {
	if d.says(m, d.k, d.unit(m)) {
		return true
	}
	return m.Unit == "" && slices.ContainsFunc(units(), func(u Unit) bool { return u.metric && d.says(m, d.k, u.MM) })
}

// says reports whether a measure, in a unit of that many mm, is what is drawn at k mm for
// one drawing unit, as far as its digits go.
func (d dimensions) says(m *drawing.Measure, k, unit float64) bool {
	return math.Abs(m.Said*unit-m.Drawn*k) <= m.Step*unit/2+AcceptMM
}
