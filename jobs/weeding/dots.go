package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// gather joins dots and accents to their stems, the highest stems first.
func (c lettering) gather(all []figure) []figure {
	slices.SortFunc(all, func(a, b figure) int {
		c.budget.Step()
		return cmp.Compare(b.Height(), a.Height())
	})
	d := newDots(c.budget, all)
	small := 0 // how many are no dots of the stem
	for i := range all {
		for small < len(all) && (small <= i || all[small].Height() > markShare*all[i].Height()) {
			d.take(small)
			small++
		}
		if small == len(all) {
			break // nor of those that follow
		}
		if !d.joined[i] {
			d.joinTo(i)
		}
	}
	var left []figure
	for i, f := range all {
		if !d.joined[i] {
			left = append(left, f)
		}
	}
	return left
}

// slenderStem is how wide, by its height, letters with accents are at least: the stem of
// a j is two fifths, an r with a caron three (common practice, no source).
const slenderStem = 0.5

// dots finds what lies above and below stems: by the feet of figures and by their
// tops, so that those within the height of a stem are not met.
type dots struct {
	budget     *budget.Budget
	all        []figure
	joined     []bool
	lettered   []bool // which stems have a bay or a hole
	feet, tops *near.Part
}

func newDots(b *budget.Budget, all []figure) dots {
	feet, tops := make([]geometry.Box, len(all)), make([]geometry.Box, len(all))
	for i, f := range all {
		feet[i], tops[i] = f.Box, f.Box
		feet[i].Max.Y, tops[i].Min.Y = f.Min.Y, f.Max.Y
	}
	d := dots{b, all, make([]bool, len(all)), make([]bool, len(all)), near.NewPart(b, near.NewTree(b, feet)), near.NewPart(b, near.NewTree(b, tops))}
	for i := range all {
		b.Step()
		d.lettered[i] = !all[i].simple
		d.feet.Set(i, true)
		d.tops.Set(i, true)
	}
	return d
}

// take leaves a figure out of all searches that follow.
func (d *dots) take(i int) {
	d.budget.Step()
	d.feet.Set(i, false)
	d.tops.Set(i, false)
}

// joinTo joins to a stem what belongs to it, and to both of them, until nothing does.
// What was joined makes the stem higher, and so it reaches farther.
func (d *dots) joinTo(stem int) {
	width := d.all[stem].Box
	for {
		box := d.all[stem].Box
		reach := markShare * box.Height()
		above, below := width, width
		above.Min.Y, above.Max.Y = box.Max.Y, box.Max.Y+reach
		below.Min.Y, below.Max.Y = box.Min.Y-reach, box.Min.Y
		found := false
		join := func(i int) bool {
			if belongs(box, d.all[i].Box) {
				was := d.all[stem]
				whole := was.Union(d.all[i].Box)
				d.all[stem] = figure{Box: whole, accents: was.accents}
				if d.lettered[stem] && was.Width() >= slenderStem*was.Height() { // the dots of i and j are parts of them
					d.all[stem].accents += whole.Max.Y - was.Max.Y
				}
				d.joined[i], found = true, true
				d.take(i)
			}
			return true
		}
		d.feet.Each(d.budget, above, join)
		d.tops.Each(d.budget, below, join)
		if !found {
			return
		}
	}
}

// belongs reports whether the small piece lies above or below the stem, near
// enough and mostly within its width.
func belongs(stem, small geometry.Box) bool {
	if small.Height() > markShare*stem.Height() {
		return false
	}
	gap := max(small.Min.Y-stem.Max.Y, stem.Min.Y-small.Max.Y)
	overlap := min(stem.Max.X, small.Max.X) - max(stem.Min.X, small.Min.X)
	return gap >= 0 && gap <= markShare*stem.Height() && overlap >= min(stem.Width(), small.Width())/2
}
