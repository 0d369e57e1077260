package reading

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/jobs/size/evidence"
)

// Weigh returns the readings of a frame that leave at most RivalMM on both
// axes, ranked: for each size those by a named cause, and the fitted factor
// where no cause gives it.
func (c *Scales) Weigh(f *evidence.Frame) []Reading {
	var all []Reading
	for _, size := range c.Sizes {
		sure := false
		for _, one := range c.Causes {
			if r, ok := c.byCause(f, size, one); ok {
				all = append(all, r)
				sure = sure || r.Sure()
			}
		}
		if r, ok := c.byFit(f, size); ok && !sure {
			all = append(all, r)
		}
	}
	all = withoutRare(all)
	c.Rank(f, all)
	if slices.ContainsFunc(all, func(r Reading) bool { return r.Sure() }) {
		all = slices.DeleteFunc(all, func(r Reading) bool { return !r.HasCause() && !r.Sure() })
	}
	return all
}

// withoutRare drops readings of rare sizes that are not sure, and those for which
// another size stands as well.
func withoutRare(all []Reading) []Reading {
	common := func(named bool) bool {
		return slices.ContainsFunc(all, func(r Reading) bool { return r.Sure() && !r.Size.Rare && (r.HasCause() || !named) })
	}
	byCause, byShape := common(true), common(false)
	return slices.DeleteFunc(all, func(r Reading) bool {
		return r.Size.Rare && (!r.Sure() || byCause || byShape && !r.HasCause())
	})
}

// far is how much farther than the frame the artwork reaches on each axis, at
// least 1: what a frame leaves grows in proportion.
func (c *Scales) far(f *evidence.Frame) [2]float64 {
	far := [2]float64{1, 1}
	if c.ManyPages {
		return far // every page has a frame of its own
	}
	sides := f.Sides()
	for i := range far {
		far[i] = math.Max(1, f.Reach[i]/sides[i])
	}
	return far
}

func (c *Scales) byCause(f *evidence.Frame, size Named, one Cause) (Reading, bool) {
	left := c.Left(f, size, one.Factor, one.Factor)
	if left[0] > RivalMM || left[1] > RivalMM {
		return Reading{}, false
	}
	r := c.reading(f, size, one.Factor, one.Factor)
	r.Cause, r.Words, r.Residual, r.Metric = one.Code, one.Words, left, one.Metric
	r.ID = size.Name + "." + one.Code
	return r, true
}

// Left returns the mm that a factor for each axis leaves between the frame and
// a size.
func (c *Scales) Left(f *evidence.Frame, size Named, x, y float64) [2]float64 {
	far, want := c.far(f), size.Along(f.U > f.V)
	return [2]float64{math.Abs(f.U*x-want[0]) * far[0], math.Abs(f.V*y-want[1]) * far[1]}
}

// At returns the size that a frame has at a factor, within what may be
// accepted.
func (c *Scales) At(f *evidence.Frame, k float64) (Named, bool) { return c.within(f, k, AcceptMM) }

// Near reports whether a frame has about a named size at a factor: within what
// rounding the given length to whole mm does.
func (c *Scales) Near(f *evidence.Frame, k float64) bool {
	_, ok := c.within(f, k, RivalMM)
	return ok
}

func (c *Scales) within(f *evidence.Frame, k, mm float64) (Named, bool) {
	for _, s := range c.Sizes {
		if left := c.Left(f, s, k, k); math.Max(left[0], left[1]) <= mm {
			return s, true
		}
	}
	return Named{}, false
}

// byFit fits one factor to both axes by least squares: k = Σ a·S / Σ a², with a
// the sides as drawn and S those of the size.
func (c *Scales) byFit(f *evidence.Frame, size Named) (Reading, bool) {
	want := size.Along(f.U > f.V)
	k := (f.U*want[0] + f.V*want[1]) / (f.U*f.U + f.V*f.V)
	left := c.Left(f, size, k, k)
	if left[0] > RivalMM || left[1] > RivalMM {
		return Reading{}, false
	}
	r := c.reading(f, size, k, k)
	r.Cause, r.Words, r.Residual = NoName, "enlarged or reduced for no known reason", left
	r.ID, r.Apart = size.Name+".unnamed", c.Apart(f, size)
	return r, true
}

// AsDeclared is the reading by which a frame of the shape that was declared has the
// declared size.
func (c *Scales) AsDeclared(f *evidence.Frame) Reading {
	d := *c.Declared
	k := d.Long / f.Longest()
	r := c.reading(f, d, k, k)
	r.ID, r.Cause, r.Words = d.Name+".declared", DeclaredFrame, "as you gave the frame"
	r.Residual, r.Apart = c.Left(f, d, k, k), c.Apart(f, d)
	return r
}

// AsGivenID is the ID of the answer that stands for AsGiven.
const AsGivenID = "as_given"

// AsGiven is the reading by the mm for one drawing unit that somebody gave.
func (c *Scales) AsGiven(f *evidence.Frame, mm float64) Reading {
	r := c.reading(f, Named{}, mm, mm)
	r.ID, r.Cause, r.Words = AsGivenID, DeclaredUnit, "as you gave the length, unit or scale"
	return r
}

// Apart sets the longer axis of a frame right and returns the mm that the
// shorter one leaves.
func (c *Scales) Apart(f *evidence.Frame, size Named) float64 {
	far, want := c.far(f), size.Along(f.U > f.V)
	if f.U > f.V {
		return math.Abs(f.V*want[0]/f.U-want[1]) * math.Max(far[0], far[1])
	}
	return math.Abs(f.U*want[1]/f.V-want[0]) * math.Max(far[0], far[1])
}

// PerAxis returns the readings that set each axis right by a factor of its
// own, for sizes whose ratio the frame misses by no more than slack.
func (c *Scales) PerAxis(f *evidence.Frame, slack float64) []Reading {
	var all []Reading
	for _, size := range c.Sizes {
		if !RatioNear(f, size, slack) {
			continue
		}
		want := size.Along(f.U > f.V)
		x, y := want[0]/f.U, want[1]/f.V
		r := c.reading(f, size, x, y)
		if size.Rare && !c.OneAxisNamed(&r) {
			continue
		}
		r.Cause, r.ID = Stretched, size.Name+".per_axis"
		r.Words = fmt.Sprintf("stretched by %.4g %% on one axis", 100*math.Abs(x/y-1))
		all = append(all, r)
	}
	c.Rank(f, all)
	return all
}

// OneSide returns the readings by a named cause that fit one axis of the frame
// while the other has been edited, for sizes whose ratio the frame misses by no
// more than slack.
func (c *Scales) OneSide(f *evidence.Frame, slack float64) []Reading {
	var all []Reading
	for _, size := range c.Sizes {
		for _, one := range c.Causes {
			left := c.Left(f, size, one.Factor, one.Factor)
			if size.Rare || (left[0] <= AcceptMM) == (left[1] <= AcceptMM) || !RatioNear(f, size, slack) {
				continue
			}
			r := c.reading(f, size, one.Factor, one.Factor)
			r.Cause, r.Words, r.Residual, r.Metric = one.Code, one.Words, left, one.Metric
			r.ID = size.Name + "." + one.Code + ".one_side"
			all = append(all, r)
		}
	}
	c.Rank(f, all)
	return all
}

// reading fills in what every reading of a frame has in common.
func (c *Scales) reading(f *evidence.Frame, size Named, x, y float64) Reading {
	r := Reading{Size: size, X: x, Y: y}
	w, h := f.Reach[0]*x, f.Reach[1]*y
	if x == y {
		w, h = f.Work.Size(x)
	}
	sides := f.Sides()
	r.FitsStock = Fits(c.Stock, w, h) || Fits(c.Stock, sides[0]*x, sides[1]*y)
	r.Plausible = f.Work.Plausible(r.Factor())
	return r
}

// RatioNear reports whether the sides of a frame have the ratio of a size, but
// for slack, a share of it.
func RatioNear(f *evidence.Frame, s Named, slack float64) bool {
	want := s.Along(f.U > f.V)
	return math.Abs(math.Log(want[0]/want[1]*f.V/f.U)) <= math.Log1p(slack)
}
