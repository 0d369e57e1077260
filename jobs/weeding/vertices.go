package weeding

// vertices keeps something of some of the vertices of a map: a table with open addressing,
// since a map is asked once for each half-edge.
type vertices struct {
	slots []leaving // as many as a power of two, at least twice those in use
	used  int
}

// leaving is the places of the first and the last half-edge that leaves a vertex, noPlace
// where none does.
type leaving struct {
	vertex      int32 // from 1; 0: the slot is free
	first, last int32
}

// at returns what is kept of a vertex, until the next call.
func (t *vertices) at(vertex int32) *leaving {
	if 2*t.used >= len(t.slots) {
		t.grow()
	}
	s := t.slot(vertex + 1)
	if s.vertex == 0 {
		t.used++
		*s = leaving{vertex + 1, noPlace, noPlace}
	}
	return s
}

// slot returns where a vertex, from 1, is or would be put.
func (t *vertices) slot(vertex int32) *leaving {
	for i := scatter(uint64(vertex)); ; i++ {
		if s := &t.slots[i&uint64(len(t.slots)-1)]; s.vertex == 0 || s.vertex == vertex {
			return s
		}
	}
}

// grow makes the table twice as large.
func (t *vertices) grow() {
	before := t.slots
	t.slots = make([]leaving, max(16, 2*len(before)))
	for _, s := range before {
		if s.vertex > 0 {
			*t.slot(s.vertex) = s
		}
	}
}
