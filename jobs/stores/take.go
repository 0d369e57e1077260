package stores

import (
	"cmp"
	"slices"
)

// Take is an amount that is taken from a lot.
type Take struct {
	Lot    string // its code
	Amount int64
}

// From chooses the lots that the need is met from, and returns by how much they
// fall short. A run is never made of two rolls, so a roll gives all of it: the
// shortest that is long enough, which leaves the long ones for long work. Sheets
// come from the oldest pile first. Lots of other items are passed over.
//
// Where nothing was ever received of the item, nobody knows what there is: it is
// taken from the lot that bears the item's name and is not counted.
func (n Need) From(lots []Lot) (takes []Take, short int64) {
	var counted []Lot
	for _, l := range lots {
		if l.Item == n.Item && l.Kind == n.Kind && l.Counted {
			counted = append(counted, l)
		}
	}
	switch {
	case n.Amount == 0:
		return nil, 0
	case len(counted) == 0:
		return []Take{{n.Item, n.Amount}}, 0
	case n.Kind == Roll || n.Kind == Tape:
		return n.fromOne(counted)
	}
	return n.fromAll(counted)
}

func (n Need) fromOne(rolls []Lot) ([]Take, int64) {
	slices.SortFunc(rolls, func(a, b Lot) int { return cmp.Or(cmp.Compare(a.Free, b.Free), cmp.Compare(a.Code, b.Code)) })
	for _, l := range rolls {
		if l.Free >= n.Amount {
			return []Take{{l.Code, n.Amount}}, 0
		}
	}
	return nil, n.Amount - rolls[len(rolls)-1].Free
}

func (n Need) fromAll(piles []Lot) (takes []Take, short int64) {
	slices.SortFunc(piles, func(a, b Lot) int { return cmp.Or(a.Created.Compare(b.Created), cmp.Compare(a.Code, b.Code)) })
	short = n.Amount
	for _, l := range piles {
		if some := min(short, l.Free); some > 0 {
			takes = append(takes, Take{l.Code, some})
			short -= some
		}
	}
	if short > 0 {
		return nil, short
	}
	return takes, 0
}

// Holds reports whether lots of an item hold the need. An item of which nothing
// was ever received does not count: nobody knows.
func (n Need) Holds(lots []Lot) bool {
	if !slices.ContainsFunc(lots, func(l Lot) bool { return l.Item == n.Item && l.Kind == n.Kind && l.Counted }) {
		return false
	}
	_, short := n.From(lots)
	return short == 0
}
