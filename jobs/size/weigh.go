package size

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// The bounds of the decision rule. They are lengths at true size, at the far
// corner of the frame or of the artwork, whichever reaches farther.
const (
	acceptMM = 0.05 // a reading that leaves more is never accepted in silence
	rivalMM  = 0.5  // a reading with a named cause that leaves more is no rival
	skewMM   = 0.12 // opposite sides or diagonals apart: noise of 0.02 mm a corner stays below
)

// reading is a hypothesis with what it takes to carry it out.
type reading struct {
	Hypothesis
	id    string
	size  named
	x, y  float64 // mm for one drawing unit along the axes of the frame
	apart float64 // mm by which the shorter axis disagrees with the longer one
	words string  // the cause in a sentence
}

// hasCause reports whether the factor has a name.
func (r *reading) hasCause() bool { return r.Cause != noName && r.Cause != Stretched }

// sure reports whether r leaves no more than may be accepted.
func (r *reading) sure() bool {
	return r.Cause != Stretched && r.ResidualMM[0] <= acceptMM && r.ResidualMM[1] <= acceptMM && r.apart <= acceptMM
}

// differs reports whether two readings disagree by more than may be accepted,
// for work that reaches the given length in drawing units.
func (r *reading) differs(o *reading, reach float64) bool {
	return math.Max(math.Abs(r.x-o.x), math.Abs(r.y-o.y))*reach > acceptMM
}

// weigh returns the readings of a frame that leave at most rivalMM on both
// axes, ranked: for each size those by a named cause, and the fitted factor
// where no cause gives it.
func (j *judge) weigh(f *framed) []reading {
	var all []reading
	for _, size := range j.sizes {
		sure := false
		for _, c := range j.causes {
			if r, ok := j.byCause(f, size, c); ok {
				all = append(all, r)
				sure = sure || r.sure()
			}
		}
		if r, ok := j.byFit(f, size); ok && !sure {
			all = append(all, r)
		}
	}
	j.rank(f, all)
	if slices.ContainsFunc(all, func(r reading) bool { return r.sure() }) {
		all = slices.DeleteFunc(all, func(r reading) bool { return !r.hasCause() && !r.sure() })
	}
	return all
}

// far is how much farther than the frame the artwork reaches on each axis, at
// least 1: what a frame leaves grows in proportion.
func (j *judge) far(f *framed) [2]float64 {
	far := [2]float64{1, 1}
	if len(j.pages) > 1 {
		return far // every page has a frame of its own
	}
	sides := f.sides()
	for i := range far {
		far[i] = math.Max(1, f.reach[i]/sides[i])
	}
	return far
}

func (j *judge) byCause(f *framed, size named, c cause) (reading, bool) {
	left := j.left(f, size, c.factor, c.factor)
	if left[0] > rivalMM || left[1] > rivalMM {
		return reading{}, false
	}
	r := j.reading(f, size, c.factor, c.factor)
	r.Cause, r.words, r.ResidualMM = c.code, c.words, left
	r.id = size.name + "." + c.code
	return r, true
}

// left returns the mm that a factor leaves between the frame and the size.
func (j *judge) left(f *framed, size named, x, y float64) [2]float64 {
	far, want := j.far(f), size.along(f.u > f.v)
	return [2]float64{math.Abs(f.u*x-want[0]) * far[0], math.Abs(f.v*y-want[1]) * far[1]}
}

// byFit fits one factor to both axes by least squares: k = Σ a·S / Σ a², with a
// the sides as drawn and S those of the size.
func (j *judge) byFit(f *framed, size named) (reading, bool) {
	want := size.along(f.u > f.v)
	k := (f.u*want[0] + f.v*want[1]) / (f.u*f.u + f.v*f.v)
	left := j.left(f, size, k, k)
	if left[0] > rivalMM || left[1] > rivalMM {
		return reading{}, false
	}
	r := j.reading(f, size, k, k)
	r.Cause, r.words, r.ResidualMM = noName, "enlarged or reduced for no known reason", left
	r.id, r.apart = size.name+".unnamed", j.apart(f, size)
	return r, true
}

// apart sets the longer axis right and returns what the shorter one leaves.
func (j *judge) apart(f *framed, size named) float64 {
	far, want := j.far(f), size.along(f.u > f.v)
	if f.u > f.v {
		return math.Abs(f.v*want[0]/f.u-want[1]) * math.Max(far[0], far[1])
	}
	return math.Abs(f.u*want[1]/f.v-want[0]) * math.Max(far[0], far[1])
}

// perAxis returns the readings that set each axis right by a factor of its
// own, for sizes whose ratio the frame misses by no more than slack.
func (j *judge) perAxis(f *framed, slack float64) []reading {
	var all []reading
	for _, size := range j.sizes {
		want := size.along(f.u > f.v)
		x, y := want[0]/f.u, want[1]/f.v
		if math.Abs(math.Log(x/y)) > math.Log1p(slack) {
			continue
		}
		r := j.reading(f, size, x, y)
		r.Cause, r.id = Stretched, size.name+".per_axis"
		r.words = fmt.Sprintf("stretched by %.4g %% on one axis", 100*math.Abs(x/y-1))
		all = append(all, r)
	}
	j.rank(f, all)
	return all
}

// oneSide returns the readings by a named cause that fit one axis of the frame
// while the other has been edited.
func (j *judge) oneSide(f *framed) []reading {
	var all []reading
	for _, size := range j.sizes {
		for _, c := range j.causes {
			left := j.left(f, size, c.factor, c.factor)
			if (left[0] <= acceptMM) == (left[1] <= acceptMM) || !j.ratioNear(f, size, edited) {
				continue
			}
			r := j.reading(f, size, c.factor, c.factor)
			r.Cause, r.words, r.ResidualMM = c.code, c.words, left
			r.id = size.name + "." + c.code + ".one_side"
			all = append(all, r)
		}
	}
	j.rank(f, all)
	return all
}

// reading fills in what every reading of a frame has in common.
func (j *judge) reading(f *framed, size named, x, y float64) reading {
	r := reading{size: size, x: x, y: y}
	r.Frame, r.Factor = size.name, math.Sqrt(x*y)
	w, h := f.measure(j.survey, x, y)
	sides := f.sides()
	r.FitsStock = fits(j.req.Stock, w, h) || fits(j.req.Stock, sides[0]*x, sides[1]*y)
	r.Plausible = f.work.plausible(r.Factor)
	return r
}

// rank orders readings by class, then by what fits the stock, then pages
// shrunk into a printer's margins, then the stock's own sheet, then the factor
// nearest to the file's own reading.
func (j *judge) rank(f *framed, all []reading) {
	off := func(r *reading) float64 { return math.Log(r.Factor / j.file.mm) }
	slices.SortStableFunc(all, func(a, b reading) int {
		return cmp.Or(
			cmp.Compare(j.class(f, &a), j.class(f, &b)),
			first(a.FitsStock && a.Plausible, b.FitsStock && b.Plausible),
			first(shrunk(off(&a)), shrunk(off(&b))),
			first(a.size.sheet, b.size.sheet),
			cmp.Compare(math.Abs(off(&a)), math.Abs(off(&b))),
		)
	})
}

// class ranks readings by what speaks for them.
func (j *judge) class(f *framed, r *reading) int {
	switch {
	case r.hasCause() && r.sure():
		return 0
	case r.hasCause() && f.whole():
		return 1 // a page rounded to whole units
	case r.Cause == Stretched && j.oneAxisNamed(r):
		return 2 // one axis is right by a named cause, the other was stretched
	case r.sure() && j.isDeclared(r.size):
		return 3
	case r.sure():
		return 4 // the shape alone
	case r.hasCause():
		return 5
	}
	return 6
}

// shrunk reports whether the logarithm of a factor is that of a page shrunk
// into margins: 93 to 100 % (common practice, no source).
func shrunk(log float64) bool { return log >= 0 && log < 0.073 }

// first compares so that what is true stands before what is not.
func first(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

func (j *judge) isDeclared(s named) bool {
	return j.declared != nil && s.short == j.declared.short && s.long == j.declared.long
}

// oneAxisNamed reports whether one axis of a stretched reading has a named factor.
func (j *judge) oneAxisNamed(r *reading) bool {
	for _, c := range j.causes {
		for _, k := range [2]float64{r.x, r.y} {
			if math.Abs(k/c.factor-1)*r.size.long <= acceptMM {
				return true
			}
		}
	}
	return false
}
