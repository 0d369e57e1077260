package reading

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/jobs/size/evidence"
)

// Rank orders readings by class, then by what fits the stock. Then the sheet
// stands first where only the convention speaks; a file that states its unit is
// believed before, so pages shrunk into a printer's margins come first there.
// The last word has the factor nearest to the file's own reading.
func (c *Scales) Rank(f *evidence.Frame, all []Reading) {
	off := func(r *Reading) float64 { return math.Log(r.Factor() / c.File.MM) }
	bySheet := func(a, b *Reading) int { return first(a.Size.Sheet, b.Size.Sheet) }
	slices.SortStableFunc(all, func(a, b Reading) int {
		before, after := 0, bySheet(&a, &b)
		if c.SheetFirst && !c.Stated {
			before, after = after, 0
		}
		return cmp.Or(
			cmp.Compare(c.class(f, &a), c.class(f, &b)),
			first(a.FitsStock && a.Plausible, b.FitsStock && b.Plausible),
			before,
			first(Shrunk(off(&a)), Shrunk(off(&b))),
			after,
			cmp.Compare(math.Abs(off(&a)), math.Abs(off(&b))),
		)
	})
}

// chanceShape is how far the shapes of papers lie apart that are nearly alike: a stretch
// of less makes one of another. A larger one that ends at the very shape of a paper was
// rather none: A4 reduced to the height of Letter (common practice, no source).
const chanceShape = 0.02

// class ranks readings by what speaks for them.
func (c *Scales) class(f *evidence.Frame, r *Reading) int {
	stretched := r.Cause == Stretched && c.OneAxisNamed(r) // one axis is right by a named cause
	switch {
	case r.Sure() && c.isDeclared(r.Size):
		return 0
	case r.HasCause() && r.Sure():
		return 1
	case r.Sure() && c.IsSaid(r.Size):
		return 2 // the shape, and the name of the layer
	case r.HasCause() && f.Whole():
		return 3 // a page rounded to whole units
	case stretched && math.Abs(math.Log(r.X/r.Y)) < chanceShape:
		return 4
	case r.Sure():
		return 5 // the shape alone
	case stretched:
		return 6
	case r.HasCause():
		return 7
	}
	return 8
}

// OneAxisNamed reports whether one axis of a stretched reading has a named factor.
func (c *Scales) OneAxisNamed(r *Reading) bool {
	for _, one := range c.Causes {
		for _, k := range [2]float64{r.X, r.Y} {
			if math.Abs(k/one.Factor-1)*r.Size.Long <= AcceptMM {
				return true
			}
		}
	}
	return false
}

// Shrunk reports whether the logarithm of a factor against the file's own is
// that of a page shrunk into margins: 93 to 100 % (common practice, no source).
func Shrunk(log float64) bool { return log >= 0 && log < 0.073 }

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
