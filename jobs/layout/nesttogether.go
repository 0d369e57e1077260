package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular"
)

// nest lays the copies of a pile by their true shapes, where that takes less than rows by
// what is worth it. What came of it is told in j.Nested.
func (j *Joint) nest(b *budget.Budget, batches []Batch, req Request, p *pile, rows []mixed) []mixed {
	if j.Nested == nil {
		j.Nested = &Nested{Effort: req.Nesting}
	}
	found := p.nested(b, batches, req, j.Mirrored, rows)
	if found == nil {
		if j.Nested.Means == "" {
			j.Nested.Means = "The copies lie by their rectangles: they are whole rectangles, or too many to be nested at once."
		}
		return rows
	}
	one := Nested{Effort: req.Nesting}
	one.compare(plain(found), plain(rows), p.area.roll)
	if !one.Better {
		if j.Nested.Means == "" {
			j.Nested.Means = one.Means
		}
		return rows
	}
	*j.Nested = one
	return found
}

// plain returns sheets without what lies on them.
func plain(all []mixed) []sheet {
	out := make([]sheet, len(all))
	for i := range all {
		out[i] = all[i].sheet
	}
	return out
}

// nested nests all copies of the pile at once, beginning with rows; nil where they are
// too many, or all whole rectangles, or cannot be.
func (p *pile) nested(b *budget.Budget, batches []Batch, req Request, mirrored bool, rows []mixed) []mixed {
	problem := irregular.Problem{
		Sheet: p.area.sheet(), ClearanceMM: math.Max(leastClearMM, req.Stock.GapMM-roundMM), WorthMM: worth(p.area.roll),
	}
	copies, full := 0, true
	turns := make([][]int, len(p.pieces))
	for i, one := range p.pieces {
		piece := &batches[one.batch].Piece
		shape, err := piece.shape(b, mirrored)
		if err != nil || len(shape) == 0 {
			return nil
		}
		full = full && shape.Area() >= piece.Bounds.Width()*piece.Bounds.Height()*(1-1e-6)
		copies += one.copies
		turns[i] = p.quarters(one, rows, req.OneTurn)
		area := irregular.Piece{Area: shape, Demand: one.copies, Hull: len(shape) > 1 && needsTape(*piece, req)}
		for _, quarter := range turns[i] {
			area.Turns = append(area.Turns, irregular.Turn{Degrees: 90 * float64(quarter)})
		}
		problem.Pieces = append(problem.Pieces, area)
	}
	if full || copies > mostAtOnce {
		return nil
	}
	found, err := irregular.Nest(b, problem, irregular.Options{Effort: effort(req.Nesting), Start: p.starting(batches, rows, turns)})
	if err != nil {
		return nil
	}
	return p.nestedSheets(batches, found, turns, req.Stock.GapMM)
}

// sheet is the area as it is nested on, a strip where it has no end.
func (a area) sheet() irregular.Sheet {
	s := irregular.Sheet{WidthMM: a.box.Width() + 2*fitSlack, LengthMM: a.box.Height() + 2*fitSlack}
	if a.roll && s.LengthMM > longestMM {
		s.LengthMM = 0
	}
	return s
}

// quarters lists the turns that the copies of a batch may take, in quarters: that of the
// first in rows first. Where all are to be turned alike it is the only one.
func (p *pile) quarters(one piled, rows []mixed, alike bool) []int {
	first := 0
	for _, on := range rows {
		if at := slices.Index(on.of, one.batch); at >= 0 {
			first = on.spots[at].quarter
			break
		}
	}
	can := p.sizes[one.size].turns
	switch {
	case alike:
		return []int{first}
	case can.Straight && can.Quarter:
		return []int{first, first + 2, 1 - first, 3 - first}
	}
	return []int{first, first + 2}
}

// starting returns the rows as placements to begin with; none where they take a turn that
// is not on the list.
func (p *pile) starting(batches []Batch, rows []mixed, turns [][]int) []irregular.Placement {
	var all []irregular.Placement
	copies := make([]int, len(p.pieces))
	for n, on := range rows {
		for k, at := range on.spots {
			i := slices.IndexFunc(p.pieces, func(one piled) bool { return one.batch == on.of[k] })
			turn := slices.Index(turns[i], at.quarter)
			if turn < 0 {
				return nil
			}
			move := at.corner.Sub(lowest(batches[on.of[k]].Piece, at.quarter))
			all = append(all, irregular.Placement{Piece: i, Copy: copies[i], Sheet: n, Turn: turn, XMM: move.X + fitSlack, YMM: move.Y + fitSlack})
			copies[i]++
		}
	}
	return all
}

// nestedSheets returns the sheets of a nesting, each with its copies from the start of it.
func (p *pile) nestedSheets(batches []Batch, found irregular.Layout, turns [][]int, gap float64) []mixed {
	type seat struct {
		spot
		of int
	}
	seats, all := make([][]seat, found.Sheets), make([]mixed, found.Sheets)
	for _, at := range found.Placements {
		batch, quarter := p.pieces[at.Piece].batch, turns[at.Piece][at.Turn]
		piece := batches[batch].Piece
		corner := geometry.Pt(at.XMM-fitSlack, at.YMM-fitSlack).Add(lowest(piece, quarter))
		corner = geometry.Pt(math.Max(0, corner.X), math.Max(0, corner.Y))
		length := piece.Bounds.Height()
		if quarter%2 == 1 {
			length = piece.Bounds.Width()
		}
		seats[at.Sheet] = append(seats[at.Sheet], seat{spot{corner, quarter}, batch})
		all[at.Sheet].lengthMM = math.Max(all[at.Sheet].lengthMM, corner.Y+length+gap)
	}
	for i := range seats {
		slices.SortStableFunc(seats[i], func(x, y seat) int {
			return cmp.Or(cmp.Compare(x.corner.Y, y.corner.Y), cmp.Compare(x.corner.X, y.corner.X))
		})
		for _, s := range seats[i] {
			all[i].spots, all[i].of = append(all[i].spots, s.spot), append(all[i].of, s.of)
		}
	}
	return all
}
