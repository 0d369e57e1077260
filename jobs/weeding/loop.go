package weeding

import (
	"slices"

	"knifedesk/geometry"
)

// loopIndex answers for any stretch of a loop what box it has and what area
// it encloses with the straight line that closes it.
type loopIndex struct {
	loop  []geometry.Point
	cross []float64      // sums of cross products of neighbours, by corner
	tree  []geometry.Box // boxes of blocks of corners, a complete binary tree
	size  int
}

type measured struct {
	area float64
	box  geometry.Box
}

// inBlock is how many corners share a box: an index is made for every cut, and asked
// for a few stretches.
const inBlock = 32

// fill makes it the index of a loop, in the room that it had for another.
func (l *loopIndex) fill(loop []geometry.Point) {
	l.loop, l.size = loop, 1
	l.cross = append(slices.Grow(l.cross[:0], len(loop)+1), 0)
	var last geometry.Point // the first corner, about itself
	sum := 0.0
	for _, p := range loop[1:] {
		next := p.Sub(loop[0])
		sum += last.Cross(next)
		l.cross, last = append(l.cross, sum), next
	}
	l.cross = append(l.cross, sum+last.Cross(geometry.Point{}))
	blocks := (len(loop) + inBlock - 1) / inBlock
	for l.size < blocks {
		l.size *= 2
	}
	l.tree = l.tree[:0]
	for range 2 * l.size {
		l.tree = append(l.tree, geometry.EmptyBox())
	}
	for i := range blocks {
		l.tree[l.size+i] = geometry.BoxAround(loop[i*inBlock : min(len(loop), (i+1)*inBlock)]...)
	}
	for i := l.size - 1; i > 0; i-- {
		l.tree[i] = l.tree[2*i].Union(l.tree[2*i+1])
	}
}

// at returns a corner about the first one, for precision.
func (l *loopIndex) at(corner int) geometry.Point { return l.loop[corner].Sub(l.loop[0]) }

// block returns the box of a block of corners, by its first.
func (l *loopIndex) block(first int) geometry.Box { return l.tree[l.size+first/inBlock] }

// box returns the box of the corners from…to, both included.
func (l *loopIndex) box(from, to int) geometry.Box {
	first, last := (from+inBlock-1)/inBlock, (to+1)/inBlock // whole blocks
	if first >= last {
		return geometry.BoxAround(l.loop[from : to+1]...)
	}
	b := geometry.BoxAround(l.loop[from : first*inBlock]...).Union(geometry.BoxAround(l.loop[last*inBlock : to+1]...))
	for i, j := first+l.size, last+l.size; i < j; i, j = i/2, j/2 {
		if i%2 == 1 {
			b = b.Union(l.tree[i])
			i++
		}
		if j%2 == 1 {
			j--
			b = b.Union(l.tree[j])
		}
	}
	return b
}

// side measures the part from p on edge i along the loop to q on edge j and
// straight back.
func (l *loopIndex) side(p geometry.Point, i int, q geometry.Point, j int) measured {
	n := len(l.loop)
	a, b := p.Sub(l.loop[0]), q.Sub(l.loop[0])
	box := geometry.BoxAround(p, q)
	first, last := (i+1)%n, j
	var inner float64
	switch {
	case i == j:
		return measured{box: box}
	case first <= last:
		box = box.Union(l.box(first, last))
		inner = l.cross[last] - l.cross[first]
	default:
		box = box.Union(l.box(first, n-1)).Union(l.box(0, last))
		inner = l.cross[n] - l.cross[first] + l.cross[last]
	}
	area := (inner + a.Cross(l.at(first)) + l.at(last).Cross(b) + b.Cross(a)) / 2
	return measured{area: area, box: box}
}
