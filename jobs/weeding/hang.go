package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
	"knifedesk/jobs/workshop"
)

// chooseSpans picks the bridges of one removed region: a cheapest tree that
// joins its holes to the outer ring as far as there is room, then as many more
// as each hole is to have, spread round it, and a second bridge for whatever
// part of the tree still hangs on one.
func chooseSpans(b *budget.Budget, all []span, rings [][]geometry.Point, limits workshop.Limits) []span {
	h := newHanging(b, all, rings, limits.BridgeMM)
	tree := h.tree()
	for _, ring := range tree {
		h.spread(ring, bridgesFor(rings[ring], limits.Stencil.OrDefault()))
	}
	for i := len(tree) - 1; i >= 0; i-- { // from the ends inwards
		ring := tree[i]
		if h.secured[ring] {
			continue
		}
		s, ok := h.second(ring, false)
		if !ok {
			s, ok = h.second(ring, true) // rather across another than a hinge
		}
		if ok {
			h.take(s)
			h.secure(h.all[s])
		}
	}
	chosen := make([]span, len(h.chosen))
	for i, s := range h.chosen {
		chosen[i] = all[s]
	}
	return chosen
}

// bridgesFor returns how many bridges an island is to hang on, by the longer
// side of its box.
func bridgesFor(island []geometry.Point, l workshop.StencilLimits) int {
	switch long := longSide(geometry.BoxAround(island...)); {
	case long < l.TwoBelowMM:
		return 2
	case long <= l.ThreeToMM:
		return 3
	}
	return max(3, int(math.Ceil(ringLength(island)/l.EachMM)))
}

// hanging is the tree of rings that hang on each other, ring 0 at the root.
type hanging struct {
	budget  *budget.Budget
	all     []span
	width   float64
	length  []float64      // by ring: round it, in mm
	at      [][]int        // by ring: those of all that reach it
	chosen  []int          // of all
	edges   [][]int        // by ring: those of the chosen that reach it
	parent  []int          // by ring; itself for the root and where none is
	on      []int          // by ring: the one of all it hangs on
	enter   []int          // by ring: its place in the walk from the root, −1 where none leads there
	leave   []int          // and the last place of those that hang on it
	hangs   []geometry.Box // by ring: round it and all that hang on it
	secured []bool         // by ring: another way than its own bridge leads to the root
}

func newHanging(b *budget.Budget, all []span, rings [][]geometry.Point, width float64) *hanging {
	n := len(rings)
	h := &hanging{
		budget: b, all: all, width: width, length: make([]float64, n), at: make([][]int, n),
		edges: make([][]int, n), parent: make([]int, n), on: make([]int, n),
		enter: make([]int, n), leave: make([]int, n), hangs: make([]geometry.Box, n), secured: make([]bool, n),
	}
	for ring, pts := range rings {
		b.Spend(2 * len(pts))
		h.length[ring] = ringLength(pts)
		h.parent[ring], h.enter[ring], h.hangs[ring] = ring, -1, geometry.BoxAround(pts...)
	}
	for i, s := range all {
		b.Step()
		for _, ring := range s.rings {
			h.at[ring] = append(h.at[ring], i)
		}
	}
	return h
}

func (h *hanging) take(i int) {
	for _, ring := range h.all[i].rings {
		h.edges[ring] = append(h.edges[ring], i)
	}
	h.chosen = append(h.chosen, i)
}

// tree takes the cheapest spans that join rings, across others only what hangs on
// nothing else, and returns the rings joined
// to the root in the order of a walk that begins there, without the root.
func (h *hanging) tree() []int {
	group := disjoint.New(len(h.parent))
	for _, across := range [...]bool{false, true} {
		for i, s := range h.all {
			h.budget.Step()
			if group.Find(s.rings[0]) != group.Find(s.rings[1]) && h.apart(s, across) {
				group.Join(s.rings[0], s.rings[1])
				h.take(i)
			}
		}
	}
	return h.walk(0, nil)
}

// walk goes to all that hang on a ring.
func (h *hanging) walk(ring int, order []int) []int {
	h.enter[ring] = len(order)
	for _, e := range h.edges[ring] {
		next := h.all[e].rings[0] + h.all[e].rings[1] - ring
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
// of length. It may go across others or not.
func (h *hanging) second(ring int, across bool) (int, bool) {
	first, long := h.all[h.on[ring]].middle, longSide(h.hangs[ring])
	best, least := -1, math.Inf(1)
	for i, s := range h.all {
		h.budget.Step()
		if h.carries(ring, s.rings[0]) == h.carries(ring, s.rings[1]) || !h.joined(s) || !h.apart(s, across) {
			continue
		}
		if c := s.cost + math.Max(0, long-s.middle.Dist(first)); c < least {
			best, least = i, c
		}
	}
	return best, best >= 0
}

// joined reports whether both rings of a span hang on the root.
func (h *hanging) joined(s span) bool {
	return h.carries(0, s.rings[0]) && h.carries(0, s.rings[1])
}

// secure marks the rings round which a further bridge closes a loop.
func (h *hanging) secure(s span) {
	for i, ring := range s.rings {
		for other := s.rings[1-i]; !h.carries(ring, other); ring = h.parent[ring] {
			h.secured[ring] = true
		}
	}
}

// apart reports whether a strip leaves room of its own width to those chosen, on
// whichever side of it they lie; or, where it may, goes right across them.
func (h *hanging) apart(s span, across bool) bool {
	const rounding = 1e-6 // mm
	for _, c := range h.chosen {
		h.budget.Step()
		gap, crossed := math.Inf(1), 0
		for _, side := range h.all[c].sides {
			for _, own := range s.sides {
				if g := segmentGap(side, own); g == 0 {
					crossed++
				} else {
					gap = math.Min(gap, g)
				}
			}
		}
		if whole := crossed == 4; whole && !across || !whole && (crossed > 0 || gap < h.width-rounding) {
			return false
		}
	}
	return true
}

// segmentGap returns the distance between two segments, 0 where they cross.
func segmentGap(a, b [2]geometry.Point) float64 {
	if parts(a, b) && parts(b, a) {
		return 0
	}
	near := func(p geometry.Point, s [2]geometry.Point) float64 {
		d := s[1].Sub(s[0])
		t := math.Max(0, math.Min(1, p.Sub(s[0]).Dot(d)/d.Dot(d)))
		return p.Dist(s[0].Add(d.Mul(t)))
	}
	return math.Min(math.Min(near(a[0], b), near(a[1], b)), math.Min(near(b[0], a), near(b[1], a)))
}

// parts reports whether the ends of b lie on different sides of the line of a.
func parts(a, b [2]geometry.Point) bool {
	d := a[1].Sub(a[0])
	return d.Cross(b[0].Sub(a[0]))*d.Cross(b[1].Sub(a[0])) < 0
}
