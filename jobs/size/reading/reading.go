// Package reading weighs what the size of a drawing can be: for each named size
// of its frame and each named cause the factor, what that leaves at the far
// corner, and whether the work would be plausible and fit the stock. It decides
// nothing.
package reading

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/workshop"
)

// The bounds by which readings are judged. They are lengths at true size, at
// the far corner of the frame or of the artwork, whichever reaches farther.
const (
	AcceptMM = 0.05 // a reading that leaves more is never accepted in silence
	RivalMM  = 0.5  // a reading with a named cause that leaves more is no rival
)

// Reading is one hypothesis of the size with what it takes to carry it out.
type Reading struct {
	ID       string // of the answer that stands for it: "A4.points_read_as_mm"
	Size     Named  // that the frame is taken for; zero where there is none
	Cause    string // code of the named cause
	Words    string // the cause in words
	X, Y     float64
	Residual [2]float64 // mm left along the frame's axes at the far corner
	Apart    float64    // mm by which the shorter axis disagrees with the longer one
	Metric   bool       // see Cause
	Page     string     // see Scales

	FitsStock bool
	Plausible bool // features neither microscopic nor off the page
}

// Factor returns the mm for one drawing unit, the mean of both axes.
func (r *Reading) Factor() float64 { return math.Sqrt(r.X * r.Y) }

// HasCause reports whether the factor has a name.
func (r *Reading) HasCause() bool { return r.Cause != NoName && r.Cause != Stretched }

// Sure reports whether r leaves no more than may be accepted.
func (r *Reading) Sure() bool {
	return r.Cause != Stretched && r.Residual[0] <= AcceptMM && r.Residual[1] <= AcceptMM && r.Apart <= AcceptMM
}

// Differs reports whether two readings disagree by more than may be accepted,
// for work that reaches the given length in drawing units.
func (r *Reading) Differs(o *Reading, reach float64) bool {
	return math.Max(math.Abs(r.X-o.X), math.Abs(r.Y-o.Y))*reach > AcceptMM
}

// Scales weigh frames against what is known of the file and the workshop.
type Scales struct {
	Survey     *evidence.Survey
	File       Unit   // as the file reads
	Stated     bool   // the file states its unit
	Page       string // the named size of the page that File rests on, where the file states no unit
	Causes     []Cause
	Sizes      []Named
	Stock      workshop.Stock
	Declared   *Named // what the frame is, where the caller said so
	Said       *Named // what the frame is by the name of its own layer
	SheetFirst bool   // the convention says that frames have the size of the sheet
	ManyPages  bool   // what lies outside a frame belongs to another
}

// NewScales returns the scales for a drawing that was surveyed.
func NewScales(s *evidence.Survey, u drawing.Unit, stock workshop.Stock, sizes []Named) *Scales {
	c := &Scales{Survey: s, File: FileUnit(u), Stated: u.Declared, Causes: CausesFor(u), Sizes: sizes, Stock: stock}
	if !u.Declared && s.Drawing.Page != nil {
		c.goByPage(s.Drawing.Page, u)
	}
	return c
}

// Bound returns the scales for a drawing whose unit somebody gave: mm for one
// drawing unit, and nothing else.
func (c *Scales) Bound(mm float64) *Scales {
	out := *c
	out.File.MM, out.Stated = mm, true
	out.Causes = []Cause{{Code: None, Words: "as given", Factor: mm}}
	return &out
}

// isDeclared reports whether a size is the one that the caller declared.
func (c *Scales) isDeclared(s Named) bool { return c.Declared != nil && s.Same(*c.Declared) }

// IsSaid reports whether a size is the one that the frame's layer has in its name.
func (c *Scales) IsSaid(s Named) bool { return c.Said != nil && s.Same(*c.Said) }

// Unframed returns the readings of work without a frame: the file's own and other
// units that would be plausible and fit the stock. The file's own stands first
// where it does so too, or where it is that of pieces which fit the stock one by one;
// before the others stands the one in which plates are drawn to measure.
func (c *Scales) Unframed(w *evidence.Work) []Reading {
	var all []Reading
	for i, one := range c.Causes {
		r := Reading{ID: "unit." + one.Code, X: one.Factor, Y: one.Factor, Cause: one.Code, Words: one.Words, Metric: one.Metric}
		if i == 0 {
			r.Page = c.Page
		}
		width, height := w.Size(one.Factor)
		r.FitsStock, r.Plausible = Fits(c.Stock, width, height), w.Plausible(one.Factor)
		if i == 0 || (r.FitsStock && r.Plausible && i < len(units())) {
			all = append(all, r)
		}
	}
	kit := c.Stated && apieces(c)
	measured, _ := c.Measured(all)
	rank := func(r *Reading) int {
		switch {
		case r.ID == measured.ID, r.Cause == None && kit:
			return 0
		case r.FitsStock && r.Plausible:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b Reading) int { return cmp.Compare(rank(&a), rank(&b)) })
	return all
}
