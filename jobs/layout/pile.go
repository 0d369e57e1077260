package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/geometry/nest/rect"
)

// pile is copies of pieces of several sizes that go on sheets of one kind.
type pile struct {
	area   area
	pieces []piled
	sizes  []size
}

// piled is a batch in a pile.
type piled struct {
	batch  int
	copies int
	size   int // of sizes
}

// size is the rectangle of a piece in µm, and how it may lie.
type size struct {
	w, h  int64
	turns nest.Turns
}

func micro(mm float64) int64 { return int64(math.Floor(mm*1000 + 0.5)) }

// add adds the copies of a batch.
func (p *pile) add(batch int, one Batch, turns nest.Turns) {
	s := size{micro(one.Piece.Bounds.Width()), micro(one.Piece.Bounds.Height()), turns}
	at := slices.Index(p.sizes, s)
	if at < 0 {
		at = len(p.sizes)
		p.sizes = append(p.sizes, s)
	}
	p.pieces = append(p.pieces, piled{batch, one.Copies, at})
}

// mixed is a sheet on which several pieces lie: the batch of each spot.
type mixed struct {
	sheet
	of []int
}

// sheets lays all copies out.
func (p *pile) sheets(b *budget.Budget, req Request) []mixed {
	slots := p.slots(b, req, p.area)
	all := make([]mixed, len(slots))
	for i, one := range slots {
		all[i].lengthMM = float64(one.lengthUM) / 1000
	}
	p.hand(b, slots, all)
	return all
}

// slot is a place for a copy of a size.
type slot struct {
	size    int
	x, y    int64
	quarter bool
}

// slots are those of one sheet, and the length that they take of it in µm, with one gap
// too many at the end.
type slots struct {
	all      []slot
	lengthUM int64
}

// slots lays rectangles out: those of one size in a pattern, and others along the skyline;
// all turned alike, and turned as they fit where that saves a sheet or what is worth it.
func (p *pile) slots(b *budget.Budget, req Request, a area) []slots {
	gap := micro(req.Stock.GapMM)
	width, length := micro(a.box.Width())+gap, micro(a.box.Height())+gap
	if len(p.sizes) == 1 {
		return p.pattern(b, req, a)
	}
	each := int64(0)
	if a.roll {
		each = micro(a.eachRun(req.Stock))
	}
	var best []slots
	for _, way := range p.ways(req.OneTurn) {
		found := p.pack(b, way, gap, width, length, a.roll, each)
		if found == nil {
			continue
		}
		if best == nil || saves(found, best, way.free, a.roll, each) {
			best = found
		}
	}
	return best
}

// pattern lays rectangles of one size.
func (p *pile) pattern(b *budget.Budget, req Request, a area) []slots {
	n := 0
	for _, one := range p.pieces {
		n += one.copies
	}
	s := p.sizes[0]
	allowed := s.turns
	allowed.Mixed = allowed.Straight && allowed.Quarter && !req.OneTurn
	rows, _ := a.equal(b, nest.Size{WidthMM: float64(s.w) / 1000, LengthMM: float64(s.h) / 1000}, req.Stock, n, allowed)
	var all []slots
	for range rows.FullSheets {
		all = append(all, slotsOf(rows.Full, rows.FullUM))
	}
	if len(rows.Rest) > 0 {
		all = append(all, slotsOf(rows.Rest, 0))
	}
	all[len(all)-1].lengthUM = rows.LengthUM
	return all
}

func slotsOf(from []nest.Slot, length int64) slots {
	one := slots{lengthUM: length}
	for _, at := range from {
		one.all = append(one.all, slot{0, at.XUM, at.YUM, at.Turned})
	}
	return one
}

// way is how the rectangles of a pile are turned.
type way struct {
	free    bool // each as it fits
	quarter func(size) bool
}

// ways lists how the rectangles may be turned, where equal ones lie alike first.
func (p *pile) ways(oneTurn bool) []way {
	all := []way{
		{quarter: func(size) bool { return false }},
		{quarter: func(size) bool { return true }},
	}
	if oneTurn {
		return all
	}
	return append(all,
		way{quarter: func(s size) bool { return s.h > s.w }}, // the longer side across
		way{quarter: func(s size) bool { return s.w > s.h }},
		way{free: true, quarter: func(size) bool { return false }},
	)
}

// pack lays rectangles of several sizes, turned in one way where they may be.
func (p *pile) pack(b *budget.Budget, w way, gap, width, length int64, roll bool, each int64) []slots {
	items, of := p.items(w, gap, width, length)
	effort := rect.Effort{Steps: min(packSteps, packEach*len(items))}
	if roll && length > micro(endless/2) {
		packing, ok := rect.Strip(b, items, width, effort)
		if !ok {
			return nil
		}
		one := rect.Sheet{Places: packing.Places, Height: packing.Height}
		for i := range items {
			one.Items = append(one.Items, i)
		}
		return []slots{packed(one, of)}
	}
	sheets, ok := []rect.Sheet(nil), false
	if roll {
		sheets, ok = rect.Runs(b, items, width, length, each, effort)
	} else {
		sheets, ok = rect.Sheets(b, items, width, length, effort)
	}
	if !ok {
		return nil
	}
	var all []slots
	for _, one := range sheets {
		all = append(all, packed(one, of))
	}
	return all
}

// items lists the rectangles with the gap beside them, and what each is of.
func (p *pile) items(w way, gap, width, length int64) (items []rect.Item, of []slot) {
	for _, one := range p.pieces {
		s := p.sizes[one.size]
		turned := w.quarter(s)
		if turned && !s.turns.Quarter || !turned && !s.turns.Straight {
			turned = !turned
		}
		item := rect.Item{W: s.w + gap, H: s.h + gap, Turn: w.free && s.turns.Straight && s.turns.Quarter}
		if turned {
			item.W, item.H = item.H, item.W
		}
		item.W, item.H = min(item.W, width), min(item.H, length) // it fits within rounding
		for range one.copies {
			items, of = append(items, item), append(of, slot{size: one.size, quarter: turned})
		}
	}
	return items, of
}

// How long a packing is searched for, in each way to turn the pieces: so many steps for
// each copy, and no more than that in all.
const (
	packEach  = 50_000
	packSteps = 6_000_000
)

func packed(s rect.Sheet, of []slot) slots {
	out := slots{lengthUM: s.Height}
	for i, id := range s.Items {
		at := of[id]
		at.x, at.y = s.Places[i].X, s.Places[i].Y
		at.quarter = at.quarter != s.Places[i].Turned
		out.all = append(out.all, at)
	}
	return out
}

// saves reports whether one layout is better than another: one in which equal pieces are
// turned unlike has to save a sheet, or a length that is worth it. Every run takes each
// besides.
func saves(one, than []slots, free, roll bool, each int64) bool {
	if !roll && len(one) != len(than) {
		return len(one) < len(than)
	}
	least := int64(1)
	if free {
		least = micro(worth(roll))
	}
	sum := func(all []slots) (um int64) {
		if !roll {
			return all[len(all)-1].lengthUM
		}
		for _, s := range all {
			um += s.lengthUM + each
		}
		return um
	}
	return sum(than)-sum(one) >= least
}

// hand hands the slots of each size out to the batches of that size: those with most
// copies first, on the first sheet that has room for all of them, and else on the first
// that has any; on a sheet in the order of the batches.
func (p *pile) hand(b *budget.Budget, from []slots, to []mixed) {
	room := make([][]int, len(from)) // by sheet and size
	for i, one := range from {
		room[i] = make([]int, len(p.sizes))
		for _, s := range one.all {
			room[i][s.size]++
		}
	}
	given := p.given(b, room)
	for i := range from {
		p.seat(from[i].all, given[i], &to[i])
	}
}

// given hands room out, by sheet and size, and returns which batches and how many copies
// lie on each sheet.
func (p *pile) given(b *budget.Budget, room [][]int) [][]piled {
	order := slices.Clone(p.pieces)
	slices.SortStableFunc(order, func(x, y piled) int { return cmp.Compare(y.copies, x.copies) })
	given := make([][]piled, len(room))
	give := func(sheet, n int, one piled) {
		room[sheet][one.size] -= n
		given[sheet] = append(given[sheet], piled{one.batch, n, one.size})
	}
	for _, one := range order {
		b.Spend(len(room))
		if i := slices.IndexFunc(room, func(r []int) bool { return r[one.size] >= one.copies }); i >= 0 {
			give(i, one.copies, one)
			continue
		}
		for i := 0; one.copies > 0; i++ {
			if n := min(one.copies, room[i][one.size]); n > 0 {
				give(i, n, one)
				one.copies -= n
			}
		}
	}
	return given
}

// seat puts the copies given to a sheet into its slots: those of one batch beside each
// other, in rows from the start of the sheet.
func (p *pile) seat(all []slot, given []piled, on *mixed) {
	slices.SortStableFunc(given, func(x, y piled) int { return cmp.Compare(x.batch, y.batch) })
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(x, y slot) int { return cmp.Or(cmp.Compare(x.y, y.y), cmp.Compare(x.x, y.x)) })
	next := make([][]int, len(p.sizes))
	for _, one := range given {
		for range one.copies {
			next[one.size] = append(next[one.size], one.batch)
		}
	}
	for _, s := range all {
		at := spot{corner: geometry.Pt(float64(s.x)/1000, float64(s.y)/1000)}
		if s.quarter {
			at.quarter = 1
		}
		on.spots, on.of = append(on.spots, at), append(on.of, next[s.size][0])
		next[s.size] = next[s.size][1:]
	}
}
