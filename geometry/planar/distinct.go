package planar

import (
	"math/bits"

	"knifedesk/geometry/budget"
)

// drawn holds every different segment once, with the sources of the lines
// that drew it: those of segment i are sources[first[i]:first[i+1]], and
// against says which of them run from b to a.
type drawn struct {
	segs    []segment
	first   []int32
	sources []int32
	against []bool
}

// distinct rounds the lines to the grid, drops those that shrink to a point
// and gathers the equal ones, whichever way they run. Segments keep the order
// in which they were first drawn.
func distinct(b *budget.Budget, lines []Line, g grid) drawn {
	var d drawn
	d.segs = make([]segment, 0, len(lines))
	of := make([]int32, len(lines)) // the segment of each line, doubled, plus one if against it
	table := make([]int32, 1<<bits.Len(uint(2*len(lines))))
	for i := range lines {
		b.Step()
		from, to := g.node(lines[i].A), g.node(lines[i].B)
		if from == to {
			of[i] = -1
			continue
		}
		if to.before(from) {
			of[i] = 2*d.enter(table, segment{to, from}) + 1
		} else {
			of[i] = 2 * d.enter(table, segment{from, to})
		}
	}
	b.Spend(len(lines))
	d.gather(lines, of)
	return d
}

// enter returns the index of s, which it appends when it is new. The table is
// open addressed and holds indices plus one.
func (d *drawn) enter(table []int32, s segment) int32 {
	mask := uint64(len(table) - 1)
	for at := s.hash() & mask; ; at = (at + 1) & mask {
		i := table[at]
		if i == 0 {
			d.segs = append(d.segs, s)
			table[at] = int32(len(d.segs))
			return int32(len(d.segs) - 1)
		}
		if d.segs[i-1] == s {
			return i - 1
		}
	}
}

// hash mixes the four coordinates (the finaliser of SplitMix64; Steele, Lea
// and Flood 2014).
func (s segment) hash() uint64 {
	h := uint64(uint32(s.a.x))<<32 | uint64(uint32(s.a.y))
	h = h*0x9e3779b97f4a7c15 ^ (uint64(uint32(s.b.x))<<32 | uint64(uint32(s.b.y)))
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}

// gather fills the sources; of says which segment each line became.
func (d *drawn) gather(lines []Line, of []int32) {
	d.first = make([]int32, len(d.segs)+2)
	for _, i := range of {
		if i >= 0 {
			d.first[i/2+2]++
		}
	}
	accumulate(d.first)
	d.sources = make([]int32, d.first[len(d.first)-1])
	d.against = make([]bool, len(d.sources))
	for k, i := range of {
		if i >= 0 {
			at := &d.first[i/2+1]
			d.sources[*at], d.against[*at] = lines[k].Source, i&1 == 1
			*at++
		}
	}
	d.first = d.first[:len(d.segs)+1]
}

// accumulate turns counts into running sums.
func accumulate(counts []int32) {
	sum := int32(0)
	for i, n := range counts {
		sum += n
		counts[i] = sum
	}
}
