package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// pairLongerThan is the length of what hangs on a bridge, in mm, above which it
// gets a second one: one would let it swing (common practice, no source).
const pairLongerThan = 10

// chooseSpans picks the bridges of one removed region: a cheapest tree that
// joins its holes to the outer ring as far as there is room, then a second
// bridge for whatever longer part of the tree hangs on one.
func chooseSpans(b *budget.Budget, all []span, rings [][]geometry.Point, width float64) []span {
	h := newHanging(b, all, rings, width)
	tree := h.tree()
	for i := len(tree) - 1; i >= 0; i-- { // from the ends inwards
		ring := tree[i]
		if h.secured[ring] || longSide(h.hangs[ring]) <= pairLongerThan {
			continue
		}
		if s, ok := h.second(ring); ok {
			h.take(s)
			h.secure(s)
		}
	}
	return h.chosen
}

// hanging is the tree of rings that hang on each other, ring 0 at the root.
type hanging struct {
	budget  *budget.Budget
	all     []span
	width   float64
	chosen  []span
	edges   [][]int        // by ring: indices of the chosen that reach it
	parent  []int          // by ring; itself for the root and where none is
	on      []int          // by ring: the chosen one it hangs on
	enter   []int          // by ring: its place in the walk from the root, −1 where none leads there
	leave   []int          // and the last place of those that hang on it
	hangs   []geometry.Box // by ring: round it and all that hang on it
	secured []bool         // by ring: another way than its own bridge leads to the root
}

func newHanging(b *budget.Budget, all []span, rings [][]geometry.Point, width float64) *hanging {
	n := len(rings)
	h := &hanging{
		budget: b, all: all, width: width, edges: make([][]int, n), parent: make([]int, n), on: make([]int, n),
		enter: make([]int, n), leave: make([]int, n), hangs: make([]geometry.Box, n), secured: make([]bool, n),
	}
	for ring, pts := range rings {
		b.Spend(len(pts))
		h.parent[ring], h.enter[ring], h.hangs[ring] = ring, -1, geometry.BoxAround(pts...)
	}
	return h
}

func (h *hanging) take(s span) {
	for _, ring := range s.rings {
		h.edges[ring] = append(h.edges[ring], len(h.chosen))
	}
	h.chosen = append(h.chosen, s)
}

// tree takes the cheapest spans that join rings, and returns the rings joined
// to the root in the order of a walk that begins there, without the root.
func (h *hanging) tree() []int {
	group := make([]int, len(h.parent))
	for i := range group {
		group[i] = i
	}
	var find func(i int) int
	find = func(i int) int {
		if group[i] != i {
			group[i] = find(group[i])
		}
		return group[i]
	}
	for _, s := range h.all {
		h.budget.Step()
		if a, b := find(s.rings[0]), find(s.rings[1]); a != b && h.apart(s) {
			group[a] = b
			h.take(s)
		}
	}
	return h.walk(0, nil)
}

// walk goes to all that hang on a ring.
func (h *hanging) walk(ring int, order []int) []int {
	h.enter[ring] = len(order)
	for _, e := range h.edges[ring] {
		next := h.chosen[e].rings[0] + h.chosen[e].rings[1] - ring
		if next == h.parent[ring] {
			continue
		}
		h.parent[next], h.on[next] = ring, e
		order = h.walk(next, append(order, next))
		h.hangs[ring] = h.hangs[ring].Union(h.hangs[next])
	}
	h.leave[ring] = len(order)
	return order
}

// carries reports whether other hangs on ring, or is it.
func (h *hanging) carries(ring, other int) bool {
	return h.enter[ring] <= h.enter[other] && h.enter[other] <= h.leave[ring]
}

// second returns the best other bridge for what hangs on a ring's own. Every
// millimetre that it lies nearer to that than the whole is long counts as one
// of length.
func (h *hanging) second(ring int) (span, bool) {
	first, long := h.chosen[h.on[ring]].middle, longSide(h.hangs[ring])
	best, least := span{}, math.Inf(1)
	for _, s := range h.all {
		h.budget.Step()
		joined := h.carries(0, s.rings[0]) && h.carries(0, s.rings[1])
		if !joined || h.carries(ring, s.rings[0]) == h.carries(ring, s.rings[1]) || !h.apart(s) {
			continue
		}
		if c := s.cost + math.Max(0, long-s.middle.Dist(first)); c < least {
			best, least = s, c
		}
	}
	return best, !math.IsInf(least, 1)
}

// secure marks the rings round which a further bridge closes a loop.
func (h *hanging) secure(s span) {
	for i, ring := range s.rings {
		for other := s.rings[1-i]; !h.carries(ring, other); ring = h.parent[ring] {
			h.secured[ring] = true
		}
	}
}

// apart reports whether a strip leaves room of its own width to those chosen.
func (h *hanging) apart(s span) bool {
	for _, c := range h.chosen {
		h.budget.Step()
		if segmentGap(c.sides[0], s.sides[0]) < 2*h.width {
			return false
		}
	}
	return true
}

// segmentGap returns the distance between two segments that do not cross.
func segmentGap(a, b [2]geometry.Point) float64 {
	near := func(p geometry.Point, s [2]geometry.Point) float64 {
		d := s[1].Sub(s[0])
		t := math.Max(0, math.Min(1, p.Sub(s[0]).Dot(d)/d.Dot(d)))
		return p.Dist(s[0].Add(d.Mul(t)))
	}
	return math.Min(math.Min(near(a[0], b), near(a[1], b)), math.Min(near(b[0], a), near(b[1], a)))
}
