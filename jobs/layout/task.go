package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular"
	"knifedesk/geometry/planar"
)

// mostAtOnce is how many copies are searched for together, since each pair of them
// counts, and blockCopies how many are repeated along a roll where there are more.
const (
	mostAtOnce  = 200
	blockCopies = 100
)

// firstPart is how much of the work what is repeated takes, of that and of the rest.
const firstPart = 0.5

// task is a nesting of the copies of a piece, whose shape is given.
type task struct {
	b     *budget.Budget
	piece Piece
	req   Request
	area  area
	shape planar.Polygons
	most  int // copies that are nested together
	block int // copies that are repeated along a roll
}

// sheets nests all copies in turns that may be mixed; nil where that is not done.
func (t *task) sheets(turns []int, rows []sheet) []sheet {
	switch {
	case t.req.Copies <= t.most:
		return t.once(t.b, t.req.Copies, turns, starting(t.piece, rows, turns))
	case t.area.roll && t.area.sheet().LengthMM == 0:
		return t.blocks(turns)
	}
	return t.patterns(turns)
}

// once nests copies together; nil where they cannot be, as where a shape fits within
// rounding alone.
func (t *task) once(b *budget.Budget, copies int, turns []int, start []irregular.Placement) []sheet {
	one := irregular.Piece{Area: t.shape, Demand: copies, Hull: len(t.shape) > 1 && needsTape(t.piece, t.req)}
	for _, quarter := range turns {
		one.Turns = append(one.Turns, irregular.Turn{Degrees: 90 * float64(quarter)})
	}
	found, err := irregular.Nest(b, irregular.Problem{
		Pieces: []irregular.Piece{one}, Sheet: t.area.sheet(),
		ClearanceMM: math.Max(leastClearMM, t.req.Stock.GapMM-roundMM), WorthMM: worth(t.area.roll),
	}, irregular.Options{Effort: effort(t.req.Nesting), Start: start})
	if err != nil {
		return nil
	}
	return nestedSheets(t.piece, found, turns, t.req.Stock.GapMM)
}

// blocks nests some copies along a roll, repeats them, and nests the rest.
func (t *task) blocks(turns []int) []sheet {
	all := sheet{}
	add := func(part []sheet) {
		for _, at := range part[0].spots {
			t.b.Step()
			at.corner.Y += all.lengthMM
			all.spots = append(all.spots, at)
		}
		all.lengthMM += part[0].lengthMM
	}
	block := t.once(t.b.Part(0, firstPart), t.block, turns, nil)
	if block == nil {
		return nil
	}
	for range t.req.Copies / t.block {
		add(block)
	}
	if left := t.req.Copies % t.block; left > 0 {
		rest := t.once(t.b.Part(firstPart, 1), left, turns, nil)
		if rest == nil {
			return nil
		}
		add(rest)
	}
	return []sheet{all}
}

// patterns nests as many copies as may fit on a sheet, repeats the full one, and nests
// the rest.
func (t *task) patterns(turns []int) []sheet {
	box := t.area.box
	many := box.Width() * box.Height() / t.shape.Area()
	if many > float64(t.most) {
		return nil
	}
	first := t.once(t.b.Part(0, firstPart), max(1, int(many)), turns, nil)
	if first == nil {
		return nil
	}
	full := first[0]
	all := slices.Repeat([]sheet{full}, t.req.Copies/len(full.spots))
	if left := t.req.Copies % len(full.spots); left > 0 {
		rest := t.once(t.b.Part(firstPart, 1), left, turns, nil)
		if rest == nil {
			return nil
		}
		all = append(all, rest...)
	}
	return all
}

func effort(n Nesting) irregular.Effort {
	return irregular.Effort(slices.Index([]Nesting{Quick, Normal, Thorough}, n))
}

// starting returns the rows as placements to begin with; none where they take a turn
// that is not on the list.
func starting(piece Piece, rows []sheet, turns []int) []irregular.Placement {
	var all []irregular.Placement
	for n, sheet := range rows {
		for _, at := range sheet.spots {
			move := at.corner.Sub(lowest(piece, at.quarter))
			turn := slices.Index(turns, at.quarter)
			if turn < 0 {
				return nil
			}
			all = append(all, irregular.Placement{Copy: len(all), Sheet: n, Turn: turn, XMM: move.X + fitSlack, YMM: move.Y + fitSlack})
		}
	}
	return all
}

// lowest is the lower left corner of the box of a piece that is turned about that of
// its bounds.
func lowest(piece Piece, quarter int) geometry.Point {
	w, h := piece.Bounds.Width(), piece.Bounds.Height()
	return [...]geometry.Point{{}, geometry.Pt(-h, 0), geometry.Pt(-w, -h), geometry.Pt(0, -w)}[quarter]
}

// nestedSheets returns the sheets of a nesting, each with its copies from the start of
// it.
func nestedSheets(piece Piece, found irregular.Layout, turns []int, gap float64) []sheet {
	all := make([]sheet, found.Sheets)
	for _, p := range found.Placements {
		quarter := turns[p.Turn]
		corner := geometry.Pt(p.XMM-fitSlack, p.YMM-fitSlack).Add(lowest(piece, quarter))
		at := spot{geometry.Pt(math.Max(0, corner.X), math.Max(0, corner.Y)), quarter}
		length := piece.Bounds.Height()
		if quarter%2 == 1 {
			length = piece.Bounds.Width()
		}
		on := &all[p.Sheet]
		on.spots = append(on.spots, at)
		on.lengthMM = math.Max(on.lengthMM, at.corner.Y+length+gap)
	}
	for i := range all {
		slices.SortStableFunc(all[i].spots, func(p, q spot) int {
			return cmp.Or(cmp.Compare(p.corner.Y, q.corner.Y), cmp.Compare(p.corner.X, q.corner.X))
		})
	}
	return all
}
