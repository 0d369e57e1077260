package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
)

// run is a few edges of a ring after each other.
type run struct {
	from, to int
	left     float64 // its least x
}

// newTying puts the edges in order, run by run from the left, and the runs in boxes.
func newTying(b *budget.Budget, r *Region) tying {
	runs := runsOf(b, r)
	t := tying{budget: b, r: r, group: disjoint.New(r.Rings()), place: make([]int32, len(r.edges)), runs: len(runs)}
	for k, u := range runs {
		for i := u.from; i < u.to; i++ {
			t.place[i] = int32(k)
		}
	}
	n := boxing{budget: b, tree: tree{edges: r.edges}, runs: runs, order: make([]int32, len(runs)), keys: make([]float64, len(runs))}
	for k := range n.order {
		n.order[k] = int32(k)
	}
	n.nodes = make([]node, 0, 2*len(runs))
	n.build(0, len(runs))
	t.nodes, t.of, t.within = n.nodes, make([]int, len(n.nodes)), make([]float64, len(n.nodes))
	return t
}

// runsOf returns the runs of a boundary from the left.
func runsOf(b *budget.Budget, r *Region) []run {
	var runs []run
	for ring := range r.Rings() {
		for i := r.first[ring]; i < r.first[ring+1]; i += inLeaf {
			u := run{i, min(i+inLeaf, r.first[ring+1]), math.Inf(1)}
			b.Spend(u.to - u.from)
			for _, e := range r.edges[u.from:u.to] {
				u.left = min(u.left, e.a.X, e.b.X)
			}
			runs = append(runs, u)
		}
	}
	slices.SortStableFunc(runs, func(p, q run) int {
		b.Step()
		return cmp.Compare(p.left, q.left)
	})
	return runs
}

// boxing makes a tree of which each leaf holds one run: those of a tree of edges hold
// edges of several rings.
type boxing struct {
	tree
	budget *budget.Budget
	runs   []run
	order  []int32   // the runs in the order of the leaves
	keys   []float64 // by run
}

// build adds the node of the runs from…to−1 in their order, with all below it.
func (n *boxing) build(from, to int) {
	n.items = n.items[:0]
	for _, k := range n.order[from:to] {
		for i := n.runs[k].from; i < n.runs[k].to; i++ {
			n.items = append(n.items, int32(i))
		}
	}
	n.budget.Spend(len(n.items))
	at := len(n.nodes)
	box, split := n.around(n.items)
	box.from, box.to = int32(from), int32(to)
	n.nodes = append(n.nodes, box)
	if to-from == 1 {
		u := n.runs[n.order[from]]
		n.nodes[at].from, n.nodes[at].to = int32(u.from), int32(u.to)
		return
	}
	for _, k := range n.order[from:to] {
		u := n.runs[k]
		n.keys[k] = split.Dot(n.edges[u.from].a) + split.Dot(n.edges[u.to-1].b)
	}
	middle := (from + to) / 2
	selectNth(n.order[from:to], n.keys, middle-from)
	n.build(from, middle)
	n.nodes[at].right = int32(len(n.nodes))
	n.build(middle, to)
}
