package weeding

import "knifedesk/geometry"

// loopIndex answers for any stretch of a loop what box it has and what area
// it encloses with the straight line that closes it.
type loopIndex struct {
	pts   []geometry.Point
	cross []float64      // sums of cross products of neighbours, by corner
	tree  []geometry.Box // boxes of corners, a complete binary tree
	size  int
}

type measured struct {
	area float64
	box  geometry.Box
}

func newLoopIndex(loop []geometry.Point) loopIndex {
	l := loopIndex{pts: make([]geometry.Point, len(loop)), cross: make([]float64, len(loop)+1), size: 1}
	for i, p := range loop { // about the first corner, for precision
		l.pts[i] = p.Sub(loop[0])
	}
	for i, p := range l.pts {
		l.cross[i+1] = l.cross[i] + p.Cross(l.pts[(i+1)%len(loop)])
	}
	for l.size < len(loop) {
		l.size *= 2
	}
	l.tree = make([]geometry.Box, 2*l.size)
	for i := range l.tree {
		l.tree[i] = geometry.EmptyBox()
	}
	for i, p := range loop {
		l.tree[l.size+i] = geometry.BoxAround(p)
	}
	for i := l.size - 1; i > 0; i-- {
		l.tree[i] = l.tree[2*i].Union(l.tree[2*i+1])
	}
	return l
}

// box returns the box of the corners from…to, both included.
func (l loopIndex) box(from, to int) geometry.Box {
	b := geometry.EmptyBox()
	for i, j := from+l.size, to+l.size+1; i < j; i, j = i/2, j/2 {
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
func (l loopIndex) side(p geometry.Point, i int, q geometry.Point, j int) measured {
	n := len(l.pts)
	origin := l.origin()
	a, b := p.Sub(origin), q.Sub(origin)
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
	area := (inner + a.Cross(l.pts[first]) + l.pts[last].Cross(b) + b.Cross(a)) / 2
	return measured{area: area, box: box}
}

// origin returns the point that the corners are stored relative to.
func (l loopIndex) origin() geometry.Point { return l.tree[l.size].Min }
