package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
)

// tying looks for the shortest lines between groups of rings.
type tying struct {
	budget *budget.Budget
	r      *Region
	group  disjoint.Sets
	place  []int32 // by edge: of two, a line begins on the one that comes first
	runs   int
	nodes  []node     // boxes round runs, as in a tree; those of the leaves are from and to of the edges
	of     []int      // by node: the group of all its edges, or several
	within []float64  // by node: no line serves its groups that is longer, as last looked at
	best   []proposal // by group, at the number of its root
	asleep int        // the group that does not look
}

// newTying puts the edges in boxes, run by run.
func newTying(b *budget.Budget, r *Region) tying {
	nodes := boxed(b, r.edges, r.thick)
	t := tying{budget: b, r: r, group: disjoint.New(r.Rings()), place: make([]int32, len(r.edges)), nodes: nodes}
	t.of, t.within = make([]int, len(nodes)), make([]float64, len(nodes))
	t.fromTheLeft()
	return t
}

// fromTheLeft gives every edge the place, by their least x, of its few edges after each
// other among all such.
func (t *tying) fromTheLeft() {
	type few struct {
		from, to int
		left     float64
	}
	all := make([]few, 0, len(t.r.edges)/inLeaf+t.r.Rings())
	for ring := range t.r.Rings() {
		end := t.r.first[ring+1]
		for i := t.r.first[ring]; i < end; i += inLeaf {
			f := few{i, min(i+inLeaf, end), math.Inf(1)}
			for _, e := range t.r.edges[f.from:f.to] {
				f.left = min(f.left, e.a.X, e.b.X)
			}
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(p, q few) int {
		t.budget.Step()
		return cmp.Or(cmp.Compare(p.left, q.left), cmp.Compare(p.from, q.from))
	})
	t.runs = len(all)
	for k, f := range all {
		for i := f.from; i < f.to; i++ {
			t.place[i] = int32(k)
		}
	}
}

// several stands for a group where a box holds edges of more than one.
const several = -1

// round returns for every group but the largest, at the number of its root, the
// shortest line to another group, where that is no longer than reach. Of two boxes
// that hold others, what is near each other within each comes first, so that little
// is left to look at between them.
func (t *tying) round(reach float64) []proposal {
	t.best = make([]proposal, t.r.Rings())
	t.sort()
	for i := len(t.nodes) - 1; i >= 0; i-- {
		t.budget.Step()
		if n := &t.nodes[i]; n.right > 0 {
			t.between(int32(i)+1, n.right, reach)
		}
		t.within[i] = t.limit(int32(i), reach)
	}
	t.best[t.asleep] = proposal{} // it did not see all there is
	return t.best
}

// sort finds the groups of all boxes, those of the children before their own, and the
// largest group by its runs.
func (t *tying) sort() {
	runs := make([]int, t.r.Rings())
	t.asleep = 0
	for i := len(t.nodes) - 1; i >= 0; i-- {
		n := &t.nodes[i]
		t.budget.Step()
		if n.right > 0 {
			if t.of[i] = t.of[i+1]; t.of[i] != t.of[n.right] {
				t.of[i] = several
			}
			continue
		}
		g := t.groupOf(int(n.from))
		if t.of[i], runs[g] = g, runs[g]+1; runs[g] > runs[t.asleep] {
			t.asleep = g
		}
	}
}

func (t *tying) groupOf(edge int) int { return t.group.Find(int(t.r.edges[edge].ring)) }

// join makes one group of those at the ends of a line, and reports whether they were two.
func (t *tying) join(p proposal) bool {
	return t.group.Join(int(t.r.edges[p.edges[0]].ring), int(t.r.edges[p.edges[1]].ring))
}

// limit returns the length beyond which no line serves a group in a box.
func (t *tying) limit(box int32, reach float64) float64 {
	if t.of[box] == several {
		return max(t.within[box+1], t.within[t.nodes[box].right])
	}
	return t.limitOf(t.of[box], reach)
}

// limitOf returns the length beyond which no line serves a group.
func (t *tying) limitOf(group int, reach float64) float64 {
	if group == t.asleep {
		return -1
	}
	return t.best[group].limit(reach)
}

// between improves what the groups in two boxes have by lines from one to the other.
func (t *tying) between(i, j int32, reach float64) {
	if t.budget.Step(); t.of[i] == t.of[j] && t.of[i] != several {
		return
	}
	t.within[i], t.within[j] = t.limit(i, reach), t.limit(j, reach)
	m, n := &t.nodes[i], &t.nodes[j]
	if enough := max(t.within[i], t.within[j]); m.away(n, enough) || t.past(m, n, enough) || t.past(n, m, enough) {
		return
	}
	switch {
	case m.right == 0 && n.right == 0:
		t.runsBetween(i, j, reach)
		return
	case n.right == 0, m.right > 0 && m.across() >= n.across():
		i, j, m, n = j, i, n, m
	}
	near, far := j+1, n.right
	if gap(m.upright, t.nodes[far].upright) < gap(m.upright, t.nodes[near].upright) {
		near, far = far, near
	}
	t.between(i, near, reach)
	t.between(i, far, reach)
}

// across is how large a box is, half its way round.
func (n *node) across() float64 { return n.upright.Width() + n.upright.Height() }

// past reports whether the edges of a leaf are all farther from a box than enough, though its
// own box is not: that of a frame, which holds all that lies inside the frame. Where the
// leaf is the smaller of the two, its box tells as much.
func (t *tying) past(leaf, n *node, enough float64) bool {
	if leaf.right > 0 || leaf.across() < n.across() {
		return false
	}
	for i := leaf.from; i < leaf.to; i++ {
		t.budget.Step()
		if e := &t.r.edges[i]; gap(geometry.BoxAround(e.a, e.b), n.upright) <= enough && n.off(e.a, e.b) <= enough {
			return false
		}
	}
	return true
}

// runsBetween improves what the groups of two runs have.
func (t *tying) runsBetween(first, second int32, reach float64) {
	a, b := t.of[first], t.of[second]
	m, n := &t.nodes[first], &t.nodes[second]
	edges := t.r.edges
	for i := m.from; i < m.to; i++ {
		e, limit := &edges[i], max(t.limitOf(a, reach), t.limitOf(b, reach))
		box := geometry.BoxAround(e.a, e.b)
		if gap(box, n.upright) > limit || n.off(e.a, e.b) > limit {
			continue
		}
		t.budget.Spend(int(n.to - n.from))
		for j := n.from; j < n.to; j++ {
			f := &edges[j]
			if gap(box, geometry.BoxAround(f.a, f.b)) > limit {
				continue
			}
			if p := t.propose(int(i), int(j)); p.length <= limit && t.leaves(p.edges[0], p.From, p.To) && t.leaves(p.edges[1], p.To, p.From) {
				t.best[a].improve(p)
				t.best[b].improve(p)
				limit = max(t.limitOf(a, reach), t.limitOf(b, reach))
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
