package tour

import (
	"slices"
	"sort"

	"knifedesk/geometry/budget"
)

// blockSize is how many stops a block holds at most.
const blockSize = 400

// blocks is the order of many stops in blocks, each of which is turned round as a
// whole: a two-level list (Fredman, Johnson, McGeoch and Ostheimer, 1995). Moving
// long pieces moves blocks and not stops, so it costs as the root of their number.
type blocks struct {
	b         *budget.Budget
	of, index []int32 // block of each stop, and its place among the ports of that
	all       []block // by number
	order     []int32 // numbers of the blocks as they follow each other
	unused    []int32 // numbers of blocks without ports
	moved     []int32
}

// block is some stops that follow each other: their left ports, unless it is turned.
type block struct {
	ports  []port
	turned bool
	rank   int32 // among all blocks
	first  int32 // place of the stop that comes first
}

func newBlocks(b *budget.Budget, ports []port) *blocks {
	l := &blocks{b: b, of: make([]int32, len(ports)), index: make([]int32, len(ports))}
	for part := range slices.Chunk(ports, blockSize/2) {
		l.order = append(l.order, int32(len(l.all)))
		l.all = append(l.all, block{})
		l.fill(int32(len(l.all)-1), slices.Grow(slices.Clone(part), blockSize/2))
	}
	l.renumber(0)
	return l
}

// fill gives a block its ports.
func (l *blocks) fill(number int32, ports []port) {
	l.b.Spend(1 + len(ports)/8)
	l.all[number].ports = ports
	for i, p := range ports {
		l.of[p>>1], l.index[p>>1] = number, int32(i)
	}
}

// renumber counts the blocks and places anew from a rank on.
func (l *blocks) renumber(rank int) {
	l.b.Spend(1 + (len(l.order)-rank)/8)
	first := int32(0)
	if rank > 0 {
		before := &l.all[l.order[rank-1]]
		first = before.first + int32(len(before.ports))
	}
	for i, number := range l.order[rank:] {
		one := &l.all[number]
		one.rank, one.first = int32(rank+i), first
		first += int32(len(one.ports))
	}
}

// place is where a stop comes.
func (l *blocks) place(stop int32) int32 {
	one := &l.all[l.of[stop]]
	if one.turned {
		return one.first + int32(len(one.ports)) - 1 - l.index[stop]
	}
	return one.first + l.index[stop]
}

// left is the left port of the stop that comes k-th in the block.
func (one *block) left(k int32) port {
	if one.turned {
		return one.ports[int32(len(one.ports))-1-k] ^ 1
	}
	return one.ports[k]
}

// holding is the rank of the block that holds a place.
func (l *blocks) holding(place int32) int {
	return sort.Search(len(l.order), func(r int) bool { return l.all[l.order[r]].first > place }) - 1
}

// left is the left port of a place.
func (l *blocks) left(place int32) port {
	one := &l.all[l.order[l.holding(place)]]
	return one.left(place - one.first)
}

// list appends the ports of places first to last.
func (l *blocks) list(to []port, first, last int) []port {
	for rank := l.holding(int32(first)); first <= last; rank++ {
		one := &l.all[l.order[rank]]
		for k := first - int(one.first); k < len(one.ports) && first <= last; k++ {
			to = append(to, one.left(int32(k)))
			first++
		}
	}
	return to
}

// write overwrites places from first on.
func (l *blocks) write(first int, ports []port) {
	for rank := l.holding(int32(first)); len(ports) > 0; rank++ {
		number := l.order[rank]
		one := &l.all[number]
		from := first - int(one.first)
		n := min(len(ports), len(one.ports)-from)
		for i, p := range ports[:n] {
			at := from + i
			if one.turned {
				at, p = len(one.ports)-1-at, p^1
			}
			one.ports[at] = p
			l.of[p>>1], l.index[p>>1] = number, int32(at)
		}
		first, ports = first+n, ports[n:]
	}
}

// shuffle puts the pieces between gaps in another order, by whole blocks.
func (l *blocks) shuffle(x *shuffle) {
	var ends [deepest]int // rank of the block after each gap
	for i, g := range x.gap[:x.k] {
		ends[i] = l.cut(g)
	}
	l.moved = l.moved[:0]
	var joints [deepest]int
	for n := 1; n < x.k; n++ {
		joints[n-1] = ends[0] + len(l.moved)
		run := l.order[ends[x.order[n]-1]:ends[x.order[n]]]
		at := len(l.moved)
		l.moved = append(l.moved, run...)
		if x.turned[n] {
			slices.Reverse(l.moved[at:])
			for _, number := range l.moved[at:] {
				l.all[number].turned = !l.all[number].turned
			}
		}
	}
	joints[x.k-1] = ends[0] + len(l.moved)
	l.b.Spend(1 + len(l.moved)/8)
	copy(l.order[ends[0]:], l.moved)
	for n := x.k - 1; n >= 0; n-- {
		l.join(joints[n])
	}
	l.renumber(max(0, ends[0]-1))
}

// cut parts blocks so that one ends with the place, and returns the rank of the
// next.
func (l *blocks) cut(place int32) int {
	rank := l.holding(place)
	number := l.order[rank]
	k := int(place-l.all[number].first) + 1
	if k == len(l.all[number].ports) {
		return rank + 1
	}
	if l.all[number].turned {
		l.straighten(number)
	}
	ports := l.all[number].ports
	rest := l.another()
	l.fill(rest, append(l.all[rest].ports[:0], ports[k:]...))
	l.all[number].ports = ports[:k]
	l.order = slices.Insert(l.order, rank+1, rest)
	l.renumber(rank + 1)
	return rank + 1
}

// another is the number of a block without ports.
func (l *blocks) another() int32 {
	if n := len(l.unused) - 1; n >= 0 {
		number := l.unused[n]
		l.unused = l.unused[:n]
		return number
	}
	l.all = append(l.all, block{ports: make([]port, 0, blockSize)})
	return int32(len(l.all) - 1)
}

// straighten writes a turned block the way it is run.
func (l *blocks) straighten(number int32) {
	one := &l.all[number]
	slices.Reverse(one.ports)
	for i := range one.ports {
		one.ports[i] ^= 1
	}
	one.turned = false
	l.fill(number, one.ports)
}

// join makes the block of a rank and the one before it one, where that is not too
// large.
func (l *blocks) join(rank int) {
	if rank < 1 || rank >= len(l.order) {
		return
	}
	first, second := l.order[rank-1], l.order[rank]
	if len(l.all[first].ports)+len(l.all[second].ports) > blockSize {
		return
	}
	for _, number := range [...]int32{first, second} {
		if l.all[number].turned {
			l.straighten(number)
		}
	}
	l.fill(first, append(l.all[first].ports, l.all[second].ports...))
	l.all[second].ports = l.all[second].ports[:0]
	l.unused = append(l.unused, second)
	l.order = slices.Delete(l.order, rank, rank+1)
}
