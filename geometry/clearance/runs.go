package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// run is a few edges of a ring after each other, with the box that is turned along
// them.
type run struct {
	from, to      int32
	middle        geometry.Point // of the box
	along, across geometry.Point // from there to the middles of two of its sides
	weight        geometry.Point // of the directions: see sumDirection
}

// boxing makes the nodes of a tree.
type boxing struct {
	budget *budget.Budget
	edges  []edge
	runs   []run
	order  []int32   // the runs in the order of the leaves
	keys   []float64 // by run
	nodes  []node
}

// boxed returns the nodes of a tree of which each leaf holds one run, whose box is no
// thicker than thick mm unless it is that of one edge.
func boxed(b *budget.Budget, edges []edge, thick float64) []node {
	n := boxing{budget: b, edges: edges}
	n.addRuns(thick)
	n.order, n.keys = make([]int32, len(n.runs)), make([]float64, len(n.runs))
	for k := range n.order {
		n.order[k] = int32(k)
	}
	n.nodes = make([]node, 0, 2*len(n.runs))
	n.build(0, len(n.runs))
	return n.nodes
}

// addRuns makes the runs of the edges.
func (n *boxing) addRuns(thick float64) {
	n.runs = make([]run, 0, 1+len(n.edges)/inLeaf)
	for from, all := 0, len(n.edges); from < all; {
		to := from + 1
		for to < min(all, from+inLeaf) && n.edges[to].ring == n.edges[from].ring {
			to++
		}
		n.addRun(from, to, thick)
		from = to
	}
}

// addRun adds a run of the edges from…to−1, or those of its halves where its box would be
// thicker: the turns of a spiral of few edges a turn would all lie in each other's boxes.
func (n *boxing) addRun(from, to int, thick float64) {
	u := run{from: int32(from), to: int32(to)}
	for i := from; i < to; i++ {
		sumDirection(&u.weight, &n.edges[i])
	}
	n.budget.Spend(2 * (to - from))
	box := around(n.edges, u)
	long, short := max(box.turned.Width(), box.turned.Height()), min(box.turned.Width(), box.turned.Height())
	const slim = 8 // times as long as it is thick: the lines of a zigzag lie beside each other
	if to-from > 1 && short > thick && short*slim > long {
		middle := (from + to) / 2
		n.addRun(from, middle, thick)
		n.addRun(middle, to, thick)
		return
	}
	u.box(&box)
	n.runs = append(n.runs, u)
}

// box gives the run its box.
func (u *run) box(n *node) {
	middle, side := n.turned.Centre(), n.dir.Perp()
	u.middle = n.dir.Mul(middle.X).Add(side.Mul(middle.Y))
	u.along, u.across = n.dir.Mul(n.turned.Width()/2), side.Mul(n.turned.Height()/2)
}

// sumDirection adds the direction of an edge to others, whichever way it runs: by the
// doubled angle, and by its length.
func sumDirection(sum *geometry.Point, e *edge) {
	sum.X += e.size * (e.dir.X*e.dir.X - e.dir.Y*e.dir.Y)
	sum.Y += e.size * 2 * e.dir.X * e.dir.Y
}

// mainDirection returns the direction along which most of the length runs of which the
// directions were added up: the mean of the doubled angles, halved.
func mainDirection(sum geometry.Point) geometry.Point {
	sin, cos := math.Sincos(math.Atan2(sum.Y, sum.X) / 2)
	return geometry.Pt(cos, sin)
}

// around returns the leaf of a run.
func around(edges []edge, u run) node {
	n := node{dir: mainDirection(u.weight), turned: geometry.EmptyBox(), upright: geometry.EmptyBox(), from: u.from, to: u.to}
	put := func(p geometry.Point) {
		widen(&n.upright, p)
		widen(&n.turned, n.frame(p))
	}
	put(edges[u.from].a)
	for i := u.from; i < u.to; i++ {
		put(edges[i].b)
	}
	n.turned, n.upright = n.turned.Grow(n.slop()), n.upright.Grow(n.slop())
	return n
}

// build adds the node of the runs from…to−1 in their order, with all below it.
func (n *boxing) build(from, to int) {
	at := len(n.nodes)
	if to-from == 1 {
		n.nodes = append(n.nodes, around(n.edges, n.runs[n.order[from]]))
		return
	}
	n.budget.Spend(to - from)
	box, split := n.round(from, to)
	n.nodes = append(n.nodes, box)
	for _, k := range n.order[from:to] {
		n.keys[k] = split.Dot(n.runs[k].middle)
	}
	middle := (from + to) / 2
	selectNth(n.order[from:to], n.keys, middle-from)
	n.build(from, middle)
	right := len(n.nodes)
	n.build(middle, to)
	top := &n.nodes[at]
	top.right = int32(right)
	top.upright = n.nodes[at+1].upright.Union(n.nodes[right].upright)
	top.turned = top.turned.Grow(top.slop())
}

// round returns the turned box round the boxes of some runs, and the axis along which
// to part them: the one along which the most of them lie one after the other.
func (n *boxing) round(from, to int) (box node, split geometry.Point) {
	var sum geometry.Point
	for _, k := range n.order[from:to] {
		sum = sum.Add(n.runs[k].weight)
	}
	box = node{dir: mainDirection(sum), turned: geometry.EmptyBox(), from: int32(from), to: int32(to)}
	side := box.dir.Perp()
	var along, across float64
	for _, k := range n.order[from:to] {
		u := &n.runs[k]
		c := box.frame(u.middle)
		x := math.Abs(u.along.Dot(box.dir)) + math.Abs(u.across.Dot(box.dir))
		y := math.Abs(u.along.Dot(side)) + math.Abs(u.across.Dot(side))
		widen(&box.turned, geometry.Point{X: c.X - x, Y: c.Y - y})
		widen(&box.turned, geometry.Point{X: c.X + x, Y: c.Y + y})
		along, across = along+x, across+y
	}
	if box.turned.Height()*along > box.turned.Width()*across {
		return box, side
	}
	return box, box.dir
}
