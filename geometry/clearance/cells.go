package clearance

import "math/bits"

// cells knows of squares of a grid which place came first in each: a table with
// open addressing, which is asked nine times for every place.
type cells struct {
	keys  []cellAt
	first []int32 // by slot: the place, and one more; 0: none
	shift int
}

// cellAt is a square of a grid by its column and row.
type cellAt struct{ x, y int64 }

// newCells returns a table with room for n cells.
func newCells(n int) cells {
	log := bits.Len(uint(2 * n))
	return cells{make([]cellAt, 1<<log), make([]int32, 1<<log), 64 - log}
}

// slot returns where a cell is, or would be put. Columns and rows are spread by two
// odd factors (multiplicative hashing).
func (c *cells) slot(k cellAt) int {
	h := uint64(k.x)*0x9e3779b97f4a7c15 + uint64(k.y)*0xc2b2ae3d27d4eb4f
	h ^= h >> 29
	h *= 0xbf58476d1ce4e5b9
	for i := int(h >> c.shift); ; i = (i + 1) & (len(c.keys) - 1) {
		if c.first[i] == 0 || c.keys[i] == k {
			return i
		}
	}
}

// at returns the first place of a cell, -1 for none.
func (c *cells) at(k cellAt) int32 { return c.first[c.slot(k)] - 1 }

// put makes a place the first of its cell where none is.
func (c *cells) put(k cellAt, place int32) {
	if i := c.slot(k); c.first[i] == 0 {
		c.keys[i], c.first[i] = k, place+1
	}
}
