// Package measured compares what people measure by hand, lengths and minutes, with
// what was planned, and says in a sentence what follows. It is pure.
package measured

import (
	"math"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
)

// Unit is what a field is measured in.
type Unit string

// The units.
const (
	MM      Unit = "mm"
	Minutes Unit = "min"
)

// The names of fields: of a plan, and of the marks of a test cut.
const (
	Length = "length"
	Cutter = "cutter"
	Bench  = "bench"
	Across = "across"
	Along  = "along"
)

// Field is one thing to measure, in its unit.
type Field struct {
	Name     string
	Label    string // what is measured, and from where to where
	Unit     Unit
	Expected float64
	Low      float64 // from here
	High     float64 // to here it is as planned
}

// Common practice, no source.
const (
	ruleMM    = 300  // the length of a rule that is at hand
	handyMM   = 50   // below this a rule says little of a length
	misreadMM = 0.5  // by which a rule is misread
	offShare  = 0.05 // by which no cutter is off by itself
	slower    = 4    // times the longest or shortest minutes, which is rather a slip of the pen
)

// OfPlan returns what is measured of a plan that is cut: a side of one copy, unless it is
// made of panels, and the minutes.
func OfPlan(p *view.Plan) []Field {
	var all []Field
	if s := p.Size; s != nil && (p.Layout == nil || p.Layout.Panels == 0) {
		all = append(all, sideOf(s.WidthMM, s.HeightMM))
	}
	if e := p.Estimate; e != nil {
		all = append(all,
			Field{Name: Cutter, Label: "Minutes at the cutter, from loading to taking out", Unit: Minutes, Expected: e.CutterMin.Likely, Low: e.CutterMin.Low, High: e.CutterMin.High},
			Field{Name: Bench, Label: "Minutes at the bench, peeling and taping", Unit: Minutes, Expected: e.BenchMin.Likely, Low: e.BenchMin.Low, High: e.BenchMin.High})
	}
	return all
}

// sideOf returns the side that is measured best: the longer one, as far as a rule reaches.
func sideOf(w, h float64) Field {
	short, long := min(w, h), max(w, h)
	mm, side := long, "longer side of one copy"
	switch {
	case long-short <= 2*misreadMM:
		side = "one side of one copy"
	case long > ruleMM && short >= handyMM:
		mm, side = short, "shorter side of one copy"
	}
	mm = math.Round(100*mm) / 100 // a rule tells less
	off := max(misreadMM, trial.MostOff*mm)
	return Field{Name: Length, Label: strings.ToUpper(side[:1]) + side[1:] + ", from outermost cut to outermost cut", Unit: MM, Expected: mm, Low: mm - off, High: mm + off}
}

// OfMarks returns what is measured on a test cut: its two marks, in mm.
func OfMarks() []Field {
	const off = trial.MostOff * trial.MarkMM
	mark := func(name, label string) Field {
		return Field{Name: name, Label: label, Unit: MM, Expected: trial.MarkMM, Low: trial.MarkMM - off, High: trial.MarkMM + off}
	}
	return []Field{
		mark(Across, "The mark across the feed, from end line to end line"),
		mark(Along, "The mark along the feed, from end line to end line"),
	}
}

// Fits says whether a value is as planned.
func (f Field) Fits(v float64) bool {
	const noise = 1e-9
	return v >= f.Low-noise && v <= f.High+noise
}

// Doubtful says whether a value is so far from what was planned that it is rather
// misread or mistyped.
func (f Field) Doubtful(v float64) bool {
	if f.Unit == MM {
		return math.Abs(v/f.Expected-1) > offShare
	}
	return v > slower*max(f.High, 1) || slower*v < f.Low
}

// Planned says what was planned, as "137 mm" or "12 to 18 min".
func (f Field) Planned() string {
	if f.Unit == MM || f.High-f.Low < 1 {
		return number.People(f.Expected) + " " + string(f.Unit)
	}
	return number.Text(f.Low, 0) + " to " + number.Text(f.High, 0) + " " + string(f.Unit)
}
