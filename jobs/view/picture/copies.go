package picture

import (
	"cmp"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
)

// isOnly reports whether a load holds the only copy there is: its number tells nothing.
func isOnly(l *layout.Layout, ld *layout.Load) bool {
	return len(l.Loads) == 1 && len(ld.Placements) == 1 && len(ld.Places) == 0
}

// copyNumber is a number that is to be written at a copy, w × numberHigh pixels.
type copyNumber struct {
	text   string
	w      float64
	copied geometry.Box // pixels
}

const (
	numberSize = 13.0 // pixels
	numberHigh = 17.0
	numberOff  = 2.0 // off the edge of a copy
)

// numbering writes numbers at copies, within an area and off what is taken: the copies and
// the numbers before, all in pixels.
type numbering struct {
	*page
	area  geometry.Box
	taken []geometry.Box
}

// copyNumbers numbers the copies whose middle lies in the row: all of them in the same
// place of each where that has room, and else each where there is any, beside its rectangle
// or within it. It reports whether some had no room: where words can tell of all copies in
// rows it then writes no number, and else leads to the first and the last of the load.
func (p *page) copyNumbers(ld *layout.Load, row geometry.Box) (missing bool) {
	const edge = 5 // pixels, off the line of the stock's edge
	n := &numbering{page: p, area: p.OnPage(row).Grow(-edge)}
	var all []copyNumber
	for _, pl := range ld.Placements {
		n.taken = append(n.taken, p.OnPage(pl.Bounds))
		if c := pl.Bounds.Centre(); c.Y >= row.Min.Y && c.Y <= row.Max.Y {
			text := copyName(ld, pl)
			all = append(all, copyNumber{text, p.TextWidth(text, numberSize, true) + 4, p.OnPage(pl.Bounds)})
		}
	}
	for place := range places {
		if n.allAt(all, place) {
			return false
		}
	}
	spots := map[int]geometry.Box{}
	for i, one := range all {
		if at, ok := n.anywhere(one); ok {
			n.taken, spots[i] = append(n.taken, at), at
		}
	}
	missing = len(spots) < len(all)
	if missing && rowsOfCopies(ld) != nil {
		return true
	}
	first, last := copyName(ld, ld.Placements[0]), copyName(ld, ld.Placements[len(ld.Placements)-1])
	for i, one := range all {
		if at, ok := spots[i]; ok {
			n.write(one, at)
		} else if one.text == first || one.text == last {
			n.lead(one)
		}
	}
	return missing
}

// allAt writes all numbers in one place of their copies, where all have room there.
func (n *numbering) allAt(all []copyNumber, place int) bool {
	try := numbering{page: n.page, area: n.area, taken: slices.Clone(n.taken)}
	var spots []geometry.Box
	for _, one := range all {
		at, ok := try.spot(one, place)
		if !ok {
			return false
		}
		spots, try.taken = append(spots, at), append(try.taken, at)
	}
	for i, one := range all {
		n.write(one, spots[i])
	}
	return true
}

// anywhere returns the first place of a copy that has room for its number.
func (n *numbering) anywhere(one copyNumber) (geometry.Box, bool) {
	for place := range places {
		if at, ok := n.spot(one, place); ok {
			return at, true
		}
	}
	return geometry.Box{}, false
}

// places is how many places a number may have at its copy: below, above, left and right of
// it, and within.
const places = 5

// spot returns where in a place of its copy a number lies, and whether it has room there.
func (n *numbering) spot(one copyNumber, place int) (geometry.Box, bool) {
	n.b.Spend(len(n.taken))
	b := one.copied
	at := func(x, y float64) geometry.Box {
		return geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x+one.w, y+numberHigh))
	}
	if beside := []geometry.Box{
		at(b.Min.X, b.Max.Y+numberOff), at(b.Min.X, b.Min.Y-numberOff-numberHigh),
		at(b.Min.X-numberOff-one.w, b.Max.Y-numberHigh), at(b.Max.X+numberOff, b.Max.Y-numberHigh),
	}; place < len(beside) {
		box := beside[place]
		return box, n.area.ContainsBox(box) && free(box, n.taken) && n.Spots.Untaken(box)
	}
	for y := max(b.Min.Y, n.area.Min.Y) + numberOff; y+numberHigh+numberOff <= b.Max.Y; y += 4 {
		for x := max(b.Min.X, n.area.Min.X) + numberOff; x+one.w+numberOff <= b.Max.X; x += 4 {
			if box := at(x, y); n.area.ContainsBox(box) && n.Spots.Clear(box) {
				return box, true
			}
		}
	}
	return geometry.Box{}, false
}

func (n *numbering) write(one copyNumber, at geometry.Box) {
	n.Spots.TakeBox(at)
	n.Draw(figure.Style{Fill: figure.Paper}, at.Path())
	n.Label(geometry.Pt(at.Centre().X, at.Max.Y-4), numberSize, one.text)
}

// lead writes a number wherever there is room, with a leader that ends at the edge of
// its copy, so that it crosses no line of it.
func (n *numbering) lead(one copyNumber) {
	b := badgeSizes(len(one.text))[1]
	best, foot, found := geometry.Point{}, geometry.Point{}, false
	for _, corner := range one.copied.Corners() {
		if at, ok := n.Spots.Beside(corner, b[0], anywhere, nil); ok && (!found || at.Dist(corner) < best.Dist(foot)) {
			best, foot, found = at, corner, true
		}
	}
	if found {
		n.Leader(best, b[0], foot, figure.Ink)
		n.Badge(best, b[0], b[1], badgeStyle(), one.text)
		n.Spots.Take(best, b[0]+1)
	}
}

// free reports whether a box overlaps none of the others.
func free(box geometry.Box, taken []geometry.Box) bool {
	for _, t := range taken {
		if box.Overlaps(t) {
			return false
		}
	}
	return true
}

// mostTold is how many rows of copies are told.
const mostTold = 10

// tellNumbers says in words which copies lie in which row, where not all have room for
// their numbers.
func tellNumbers(p *page, ld *layout.Load) {
	rows := rowsOfCopies(ld)
	if len(rows) == 0 {
		p.Paragraph(0, "Not every copy has room for its number.")
		return
	}
	var told []string
	for i, row := range rows {
		if i == mostTold && len(rows) > mostTold+1 {
			told = append(told, "and "+count(len(rows)-i, "more row", "more rows"))
			break
		}
		told = append(told, numbers(row))
	}
	p.Paragraph(0, "Copies row by row from the loading edge, each row from the left of the stock as it goes in: "+strings.Join(told, "; ")+".")
}

// rowsOfCopies lists the numbers of the copies in rows from the loading edge, each from the
// left; none where they lie in no rows.
func rowsOfCopies(ld *layout.Load) [][]int {
	boxes := rectangles(ld)
	lanes := lanesOf(boxes, func(b geometry.Box) (float64, float64) { return b.Min.Y, b.Max.Y })
	if len(lanes) == 0 {
		return nil
	}
	rows := make([][]int, len(lanes))
	for i, lane := range lanes {
		var held []layout.Placement
		for _, pl := range ld.Placements {
			if y := pl.Bounds.Centre().Y; y >= lane.from && y <= lane.to {
				held = append(held, pl)
			}
		}
		slices.SortStableFunc(held, func(a, b layout.Placement) int { return cmp.Compare(a.Bounds.Min.X, b.Bounds.Min.X) })
		for _, pl := range held {
			rows[i] = append(rows[i], pl.Copy)
		}
	}
	return rows
}
