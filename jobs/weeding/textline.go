package weeding

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// figure is what is drawn on the outside or on a plate: a letter, with its dots
// and accents, or a mark.
type figure struct {
	geometry.Box // along the lettering
	face         int32
	// simple says that it is one lump without a hole or a bay, as stops, commas,
	// apostrophes and accents are.
	simple bool
	// accents says how much those over a letter add to its height.
	accents float64
}

// textline is a line of lettering: figures that follow each other on one
// baseline.
type textline struct {
	baseline float64
	height   float64 // of its capitals, or of the small letters where it has none
	figures  []figure
	turned   float64 // of the line from the x axis, radians
}

// place returns the box, as the work lies, round one along the line.
func (l textline) place(b geometry.Box) geometry.Box {
	if l.turned == 0 {
		return b
	}
	turn, box := geometry.Rotate(l.turned), geometry.EmptyBox()
	for _, p := range b.Corners() {
		q := turn.Apply(p)
		box = box.Union(geometry.BoxAround(q, q))
	}
	return box
}

// The shares of the height of a line that tell its letters from its marks. Small
// letters are about half as high as capitals, commas a third; the tails of
// letters and commas reach down a third at most (common practice, no source).
const (
	markShare    = 0.4 // below it a figure is a mark; above it, off the baseline, one too
	raisedShare  = 0.5 // apostrophes and quotes are no higher
	footShare    = 0.1 // figures whose feet differ less stand on the same baseline
	tailShare    = 0.4 // how far apart the feet of neighbours may lie
	nextShare    = 1.2 // how wide a gap may be between neighbours, of a word or of two
	alikeHeights = 0.2 // of the lower of two letters next to each other
)

// letters returns the letters of a line without stops, commas, apostrophes and
// other marks. Two or more figures of a mark's size with holes or bays are low
// letters all the same.
func (l textline) letters() []figure {
	var letters, low []figure
	for _, f := range l.figures {
		top, foot := f.Max.Y-l.baseline, f.Min.Y-l.baseline
		mark := markShare * l.height
		switch {
		case f.Height() >= mark && top >= mark && foot <= mark:
			letters = append(letters, f)
		case !f.simple:
			low = append(low, f)
		}
	}
	if len(low) > 1 || len(letters) == 0 {
		letters = append(letters, low...)
	}
	return letters
}

// lowest returns the height of the lowest letter of the line.
func (l textline) lowest() float64 {
	least := math.Inf(1)
	for _, f := range l.letters() {
		least = math.Min(least, l.heightOf(f))
	}
	return least
}

// heightOf returns the height of a letter of the line without its tail and without its
// accents: an Ö is as high as an O.
func (l textline) heightOf(f figure) float64 {
	foot := f.Min.Y
	if foot < l.baseline-footShare*l.height && f.Max.Y > l.baseline {
		foot = l.baseline
	}
	return f.Max.Y - f.accents - foot
}

// lettered reports whether any letter of the line has a bay or a hole.
func (l textline) lettered() bool {
	return slices.ContainsFunc(l.figures, func(f figure) bool { return !f.simple })
}

// newTextline finds the baseline and the height of a line.
func newTextline(b *budget.Budget, figures []figure) textline {
	slices.SortFunc(figures, func(p, q figure) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.Min.X, q.Min.X), cmp.Compare(p.Min.Y, q.Min.Y))
	})
	l := textline{figures: figures}
	tallest := 0.0
	for _, f := range figures {
		tallest = math.Max(tallest, f.Height())
	}
	l.baseline = baselineOf(b, figures, footShare*tallest)
	for _, f := range figures {
		if math.Abs(f.Min.Y-l.baseline) <= footShare*tallest {
			l.height = math.Max(l.height, f.Max.Y-l.baseline)
		}
	}
	return l
}

// baselineOf returns the foot on which most stands, each figure by its height:
// the middle one of the heaviest group of feet within the slack.
func baselineOf(b *budget.Budget, figures []figure, slack float64) float64 {
	feet := slices.Clone(figures)
	slices.SortFunc(feet, func(p, q figure) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.Min.Y, q.Min.Y), cmp.Compare(p.Height(), q.Height()))
	})
	best, most, weight, from := 0.0, -1.0, 0.0, 0
	for to := range feet {
		weight += feet[to].Height()
		for feet[to].Min.Y-feet[from].Min.Y > slack {
			weight -= feet[from].Height()
			from++
		}
		if weight > most {
			best, most = feet[(from+to+1)/2].Min.Y, weight
		}
	}
	return best
}

// follows reports whether the lower of two figures stands in one line with the
// higher, next to it: on the same foot or, as a mark, somewhere along its height.
func (low figure) follows(high figure) bool {
	h := high.Height()
	if math.Max(low.Min.X-high.Max.X, high.Min.X-low.Max.X) > nextShare*h {
		return false
	}
	if math.Abs(low.Min.Y-high.Min.Y) <= tailShare*h {
		return low.Height() >= alikeHeights*h || low.simple
	}
	return low.simple && low.Height() <= raisedShare*h &&
		low.Min.Y >= high.Min.Y-tailShare*h && low.Max.Y <= high.Max.Y+tailShare*h
}
