package table

import "knifedesk/geometry/budget"

// mostBytes is what the tables of a view may take, and mostPrice what one of them may
// cost: outlines of hundreds of parts are compared without.
const (
	mostBytes = 32 << 20
	mostPrice = 2_000_000
)

// Entry is a table as it is looked up for two outlines, and by how many quarters
// the way between them is turned for that.
type Entry struct {
	*Table
	quarters int
}

// turns are the turns by quarters: x' = xx·x + xy·y, y' = −xy·x + xx·y.
var turns = [4]struct{ xx, xy float64 }{{1, 0}, {0, -1}, {-1, 0}, {0, 1}}

// Depth is that of the table; the middle of the second outline's box lies (dx, dy)
// from that of the first.
func (e *Entry) Depth(dx, dy float64) float64 {
	t := &turns[e.quarters&3]
	return e.Table.Depth(float64(t.xx*dx)+float64(t.xy*dy), float64(t.xx*dy)-float64(t.xy*dx))
}

// View is what one search knows of a store: the tables that it has come to use.
// It depends on what the search did alone, and not on others beside it.
type View struct {
	store   *Store
	entries []Entry  // by the numbers of outlines
	known   []*Table // by pairs
	spent   []int32  // without a table, by pairs
	bytes   int
}

// View returns a view without tables.
func (s *Store) View() *View {
	n := len(s.slots)
	return &View{store: s, entries: make([]Entry, n), known: make([]*Table, n), spent: make([]int32, n)}
}

// Row returns the entries of an outline by the numbers of the others: nil where
// there are no tables.
func (v *View) Row(number int32) []Entry {
	if len(v.entries) == 0 {
		return nil
	}
	n := len(v.store.shapes)
	return v.entries[int(number)*n : int(number+1)*n]
}

// Spend notes what comparing two outlines has cost. Once it comes to what their
// table costs, the view has it from then on; the result is the cost of that, or 0.
func (v *View) Spend(b *budget.Budget, one, other int32, work int) int {
	if len(v.entries) == 0 {
		return 0
	}
	p := v.store.pairOf(one, other)
	slot, price := v.store.slot(p), 0
	if v.known[slot] == nil {
		price = v.store.price(p)
		v.spent[slot] += int32(work)
		if int(v.spent[slot]) < price || price > mostPrice || v.bytes > mostBytes {
			return 0
		}
		v.known[slot] = v.store.get(b, p)
		v.bytes += v.known[slot].Bytes()
	}
	n := len(v.store.shapes)
	v.entries[int(other)*n+int(one)] = Entry{v.known[slot], (p.quarters + 2) % 4}
	v.entries[int(one)*n+int(other)] = Entry{v.known[slot], p.quarters}
	return price
}
