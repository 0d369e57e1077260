package picture

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/weeding"
)

// How often a part is halved whose numbers have no room, and above how many parts none is:
// each is a picture to find one's way in.
const (
	mostHalvings = 2
	mostFine     = 16
)

// finer halves the parts in which some numbers have no room, as on a narrow page.
func (s *sheet) finer(tiles []tile) []tile {
	d := s.division()
	for range mostHalvings {
		var fine []tile
		for i, t := range tiles {
			if left := len(tiles) - i; len(fine)+left < mostFine && len(t.steps) > 1 && !holdsNumbers(s, t) {
				fine = append(fine, halved(d, t)...)
			} else {
				fine = append(fine, t)
			}
		}
		tiles = fine
	}
	// Whoever peels goes from part to part: the one with the first step comes first.
	slices.SortStableFunc(tiles, func(a, b tile) int { return a.steps[0].Order - b.steps[0].Order })
	for i := range tiles {
		tiles[i].name = letter(i)
	}
	return tiles
}

// holdsNumbers reports whether all numbers of a part have room in it near where they belong:
// they are placed on a page that is not kept.
func holdsNumbers(s *sheet, t tile) bool {
	try := newSheet(newPage(s.b, "", ""), s.m)
	openPart(try, t)
	try.Within(try.Area, try.content)
	for _, one := range try.place(t.steps) {
		if one.r == 0 || one.at.Dist(one.foot) > farFrom*one.r {
			return false
		}
	}
	return true
}

// openPart opens the panel of a part.
func openPart(s *sheet, t tile) {
	s.Open(t.box.Grow(overlap*math.Max(t.box.Width(), t.box.Height())), figure.Inset{Tight: true, Closed: true})
}

// halved parts a tile across its longer side, each half cropped to its steps.
func halved(d *division, t tile) []tile {
	low, high := t.box, t.box
	c := t.box.Centre()
	upright := t.box.Height() > t.box.Width()
	if upright {
		low.Max.Y, high.Min.Y = c.Y, c.Y
	} else {
		low.Max.X, high.Min.X = c.X, c.X
	}
	var first, second []weeding.Step
	for _, st := range t.steps {
		if upright && st.Pick.Y <= c.Y || !upright && st.Pick.X > c.X {
			second = append(second, st)
		} else {
			first = append(first, st)
		}
	}
	boxes := [2]geometry.Box{low, high}
	if upright { // from the top
		boxes = [2]geometry.Box{high, low}
	}
	var halves []tile
	for i, steps := range [][]weeding.Step{first, second} {
		if len(steps) > 0 {
			halves = append(halves, tile{box: d.cropped(boxes[i], steps), steps: steps})
		}
	}
	return halves
}
