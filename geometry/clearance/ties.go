package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Tie is a straight line between two rings of a region, as short as any.
type Tie struct {
	From, To geometry.Point
	edges    [2]int // the edges on which it begins and ends
}

// Length returns the length of the tie in mm.
func (t Tie) Length() float64 { return t.From.Dist(t.To) }

// Ties returns lines that join all the rings into one: the shortest spanning
// tree over the shortest distances between rings, found by Borůvka's rounds.
//
// The lines of such a tree are clear by themselves. A shortest line between
// two rings stays as far from either as from the end on it. If it came nearer
// to a third ring than to one of its own ends, that ring would be nearer to
// both than they are to each other, and the tree would go by way of it. Hence
// beyond a length c from its ends a tie keeps c off every ring.
//
// Of lines of equal length, to a tenth of a nanometre, the one most along an
// axis is taken, and a level one before an upright one, so that the result does
// not depend on the order of the rings.
func (r *Region) Ties(b *budget.Budget) []Tie {
	if len(r.edges) == 0 {
		return nil
	}
	t := newTying(b, r)
	var ties []Tie
	reach := math.Sqrt(r.bounds.Width() * r.bounds.Height() / float64(t.runs))
	reach = math.Max(reach, alike)
	for farthest := r.bounds.Min.Dist(r.bounds.Max); len(ties) < r.Rings()-1; {
		joined := false
		for _, c := range t.round(reach) {
			if c.ok && t.group.join(r.edges[c.edges[0]].ring, r.edges[c.edges[1]].ring) {
				ties = append(ties, c.Tie)
				joined = true
			}
		}
		if !joined {
			if reach > farthest {
				break
			}
			reach *= 2
		}
	}
	return ties
}

type tying struct {
	budget *budget.Budget
	r      *Region
	group  sets
	of     []int   // by node of the tree: the group of all its edges, or several
	place  []int32 // by edge: of two, a line begins on the one that comes first
	runs   int
	best   []proposal // by group, at the number of its root
	least  []float64  // by node: no line from a leaf to another group is shorter
}

// several stands for a group where a box holds edges of more than one.
const several = -1

// newTying puts the edges in order, run by run of a few neighbours from the left.
func newTying(b *budget.Budget, r *Region) tying {
	t := tying{budget: b, r: r, group: newSets(r.Rings()), of: make([]int, len(r.tree.nodes)), place: make([]int32, len(r.edges)), least: make([]float64, len(r.tree.nodes))}
	type run struct {
		left     float64
		from, to int
	}
	var runs []run
	for ring := range r.Rings() {
		for i := r.first[ring]; i < r.first[ring+1]; i += inLeaf {
			u := run{math.Inf(1), i, min(i+inLeaf, r.first[ring+1])}
			b.Spend(u.to - u.from)
			for _, e := range r.edges[u.from:u.to] {
				u.left = math.Min(u.left, math.Min(e.a.X, e.b.X))
			}
			runs = append(runs, u)
		}
	}
	slices.SortStableFunc(runs, func(p, q run) int {
		b.Step()
		return cmp.Compare(p.left, q.left)
	})
	for k, u := range runs {
		for i := u.from; i < u.to; i++ {
			t.place[i] = int32(k)
		}
	}
	t.runs = len(runs)
	return t
}

// round returns for every group, at the number of its root, the shortest line
// to another group, where that is no longer than reach. Each leaf of the tree
// looks for what lies near it, past boxes that hold nothing but its own group.
func (t *tying) round(reach float64) []proposal {
	t.best = make([]proposal, t.r.Rings())
	t.sort()
	for i := range t.r.tree.nodes {
		if t.r.tree.nodes[i].right > 0 {
			continue
		}
		group := t.of[i]
		if group != several && t.least[i] > t.best[group].limit(reach) {
			continue // as groups only grow, this holds in later rounds too
		}
		t.around(int32(i), reach)
		if group != several {
			t.least[i] = t.best[group].above(reach)
		}
	}
	return t.best
}

// sort finds the groups of all boxes, those of the children before their own.
func (t *tying) sort() {
	nodes := t.r.tree.nodes
	for i := len(nodes) - 1; i >= 0; i-- {
		n := &nodes[i]
		t.budget.Step()
		if n.right > 0 {
			if t.of[i] = t.of[i+1]; t.of[i] != t.of[n.right] {
				t.of[i] = several
			}
			continue
		}
		t.budget.Spend(int(n.to - n.from))
		items := t.r.tree.items[n.from:n.to]
		t.of[i] = t.groupOf(items[0])
		for _, e := range items[1:] {
			if t.groupOf(e) != t.of[i] {
				t.of[i] = several
			}
		}
	}
}

func (t *tying) groupOf(edge int32) int { return t.group.find(t.r.edges[edge].ring) }

// around improves what the groups of a leaf have by the edges near it.
func (t *tying) around(leaf int32, reach float64) {
	type box struct {
		node int32
		gap  float64
	}
	nodes := t.r.tree.nodes
	own := &nodes[leaf]
	corners := own.corners()
	var below [64]box // no tree of int32 edges is deeper
	for rest := append(below[:0], box{}); len(rest) > 0; {
		at := rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		n, limit := &nodes[at.node], t.limit(leaf, reach)
		t.budget.Step()
		switch {
		case t.of[leaf] != several && t.of[at.node] == t.of[leaf] || at.gap > limit:
		case n.right == 0:
			t.between(own, n, reach)
		default:
			near := box{at.node + 1, own.gap(&corners, &nodes[at.node+1], limit)}
			far := box{n.right, own.gap(&corners, &nodes[n.right], limit)}
			if far.gap < near.gap {
				near, far = far, near
			}
			rest = append(rest, far, near)
		}
	}
}

// limit returns the length beyond which no line serves a group of the leaf.
func (t *tying) limit(leaf int32, reach float64) float64 {
	if t.of[leaf] != several {
		return t.best[t.of[leaf]].limit(reach)
	}
	limit := 0.0
	n := &t.r.tree.nodes[leaf]
	for _, i := range t.r.tree.items[n.from:n.to] {
		limit = max(limit, t.best[t.groupOf(i)].limit(reach))
	}
	return limit
}

// between improves what the groups of one leaf have by lines to the edges of
// another.
func (t *tying) between(leaf, other *node, reach float64) {
	edges, items := t.r.edges, t.r.tree.items
	for _, i := range items[leaf.from:leaf.to] {
		e, group := &edges[i], t.groupOf(i)
		best := &t.best[group]
		limit := best.limit(reach)
		if other.off(e.a, e.b) > limit {
			continue
		}
		t.budget.Spend(int(other.to - other.from))
		box := geometry.BoxAround(e.a, e.b)
		for _, j := range items[other.from:other.to] {
			f := &edges[j]
			if t.groupOf(j) == group || gap(box, geometry.BoxAround(f.a, f.b)) > limit {
				continue
			}
			if p := t.propose(int(i), int(j)); p.length <= limit && t.leaves(p.edges[0], p.From, p.To) && t.leaves(p.edges[1], p.To, p.From) {
				best.improve(p)
				limit = best.limit(limit)
			}
		}
	}
}

// propose returns the shortest line between two edges.
func (t *tying) propose(i, j int) proposal {
	if t.place[j] < t.place[i] {
		i, j = j, i
	}
	return propose(&t.r.edges[i], &t.r.edges[j], i, j)
}
