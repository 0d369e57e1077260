package table

import (
	"sync/atomic"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
)

// Shape is an outline that is searched with. Those of one piece whose turns
// differ by quarters have the same Piece, and share their tables: two that are
// turned together overlap as they did.
type Shape struct {
	*outline.Outline
	Piece   int
	Quarter int // 0 to 3
}

// most is for how many outlines there are tables: each pair of them has an
// entry in the store, and in each search.
const most = 400

// Store keeps the tables of pairs of outlines for searches that run side by
// side: each is made when the first of them wants it.
type Store struct {
	shapes  []Shape
	numbers map[*outline.Outline]int32
	turned  map[int][4]int32 // of each piece: the numbers of its quarters, and one more; 0: none
	give    float64
	slots   []atomic.Pointer[Table]
}

// NewStore returns a store for outlines. Of what overlaps by less than give steps
// its tables say that it does not.
func NewStore(shapes []Shape, give float64) *Store {
	s := &Store{shapes: shapes, give: give, numbers: map[*outline.Outline]int32{}, turned: map[int][4]int32{}}
	for i, one := range shapes {
		s.numbers[one.Outline] = int32(i)
		turned := s.turned[one.Piece]
		turned[one.Quarter] = int32(i) + 1
		s.turned[one.Piece] = turned
	}
	if n := len(shapes); n <= most {
		s.slots = make([]atomic.Pointer[Table], n*n)
	}
	return s
}

// Number returns the number of an outline.
func (s *Store) Number(o *outline.Outline) int32 { return s.numbers[o] }

// pair is two outlines that have a table, by their numbers, and by how many
// quarters the way between two others is turned to look into it.
type pair struct {
	first, second int32
	quarters      int
}

// pairOf returns the pair in whose table two outlines are looked up: of those that
// are these two turned together, or the other way round, the one of the lower piece
// in its first turn.
func (s *Store) pairOf(one, other int32) pair {
	a, b := s.shapes[one], s.shapes[other]
	relative := (b.Quarter - a.Quarter + 4) % 4
	swapped := a.Piece > b.Piece || a.Piece == b.Piece && relative == 3
	if swapped {
		a, b, relative = b, a, (4-relative)%4
	}
	of, with, quarter := s.turned[a.Piece], s.turned[b.Piece], 0
	for of[quarter] == 0 || with[(quarter+relative)%4] == 0 { // at that of a and b at the latest
		quarter++
	}
	p := pair{of[quarter] - 1, with[(quarter+relative)%4] - 1, quarter - a.Quarter + 4}
	if swapped {
		p.quarters += 2
	}
	p.quarters %= 4
	return p
}

// get returns the table of a pair.
func (s *Store) get(b *budget.Budget, p pair) *Table {
	slot := &s.slots[s.slot(p)]
	if t := slot.Load(); t != nil {
		return t
	}
	t := New(b, s.shapes[p.first].Outline, s.shapes[p.second].Outline, s.give)
	slot.CompareAndSwap(nil, t) // another search may have made the same
	return slot.Load()
}

func (s *Store) slot(p pair) int { return int(p.first)*len(s.shapes) + int(p.second) }

// price is what the table of a pair costs, in the work of looks into one: for each
// pair of parts, and for each pair of circles.
func (s *Store) price(p pair) int {
	const part, circle = 60, 120
	o, q := s.shapes[p.first], s.shapes[p.second]
	return part*len(o.Parts)*len(q.Parts) + circle*o.Poles()*q.Poles()
}
