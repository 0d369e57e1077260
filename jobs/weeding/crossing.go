package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/finding"
)

// crossings are the closed strokes that run over each other.
type crossings struct {
	pairs [][2]int32      // in order, the smaller stroke first
	self  []int32         // strokes that run over themselves, in order
	first map[int32]int32 // of each closed stroke: the first of those that run alike
}

// cross reports whether two closed strokes run over each other.
func (x crossings) cross(a, b int32) bool {
	a, b = x.first[a], x.first[b]
	_, found := slices.BinarySearchFunc(x.pairs, [2]int32{min(a, b), max(a, b)}, comparePairs)
	return found
}

func (x crossings) none() bool { return len(x.pairs) == 0 && len(x.self) == 0 }

// crossing finds what crosses.
type crossing struct {
	budget *budget.Budget
	*cells
}

// crossingsOf finds the crossings of the strokes of c. Of two strokes that cross, one has edges inside and
// edges outside the other; strokes that only touch, or share an edge, have
// not. A stroke crosses itself where it runs twice round a face, or round
// faces in both directions.
func crossingsOf(b *budget.Budget, of *cells) crossings {
	c := crossing{b, of}
	x := crossings{first: c.alike()}
	sides := map[[2]int32]uint8{} // 1: inside, 2: outside
	for _, p := range c.meetings(x.first) {
		sides[p] = 0
	}
	partners := map[int32][]int32{}
	for p := range sides {
		b.Step()
		partners[p[0]] = append(partners[p[0]], p[1])
	}
	for edge := range c.Edges {
		c.look(int32(edge), partners, sides)
	}
	for p, s := range sides {
		b.Step()
		if s == 3 {
			x.pairs = append(x.pairs, [2]int32{min(p[0], p[1]), max(p[0], p[1])})
		}
	}
	slices.SortFunc(x.pairs, func(p, q [2]int32) int {
		b.Step()
		return comparePairs(p, q)
	})
	x.pairs = slices.Compact(x.pairs)
	x.self = c.selfCrossings()
	return x
}

// look notes of every stroke on an edge whether the edge lies inside or outside
// each of the stroke's partners.
func (c crossing) look(edge int32, partners map[int32][]int32, sides map[[2]int32]uint8) {
	left, on := c.Edges[edge].Left, c.closedOn(c.budget, edge)
	for _, s := range on {
		for _, other := range partners[s] {
			c.budget.Spend(1 + len(on)/8)
			if slices.Contains(on, other) {
				continue
			}
			if c.turns(left, other) != 0 {
				sides[[2]int32{s, other}] |= 1
			} else {
				sides[[2]int32{s, other}] |= 2
			}
		}
	}
}

func comparePairs(a, b [2]int32) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}

// meetings lists the ordered pairs of closed strokes that share a corner of
// the map. Of strokes that run alike along the same edges, identical copies for
// instance, only the first is paired with others: what crosses one crosses all.
func (c crossing) meetings(first map[int32]int32) [][2]int32 {
	met := make([][]int32, c.NumVertices())
	for edge := range c.Edges {
		e := c.Edges[edge]
		for _, s := range c.closedOn(c.budget, int32(edge)) {
			if first[s] != s {
				continue
			}
			for _, v := range [2]int32{e.From, e.To} {
				c.budget.Spend(1 + len(met[v])/8)
				if !slices.Contains(met[v], s) {
					met[v] = append(met[v], s)
				}
			}
		}
	}
	seen := map[[2]int32]bool{}
	var pairs [][2]int32
	for _, all := range met {
		c.budget.Spend(1 + len(all)*len(all))
		for _, a := range all {
			for _, b := range all {
				if p := [2]int32{a, b}; a != b && !seen[p] {
					seen[p] = true
					pairs = append(pairs, p)
				}
			}
		}
	}
	return pairs
}

func (c crossing) selfCrossings() []int32 {
	sign := map[int32]int32{}
	var self []int32
	for _, ws := range c.round {
		c.budget.Spend(1 + len(ws))
		for _, w := range ws {
			s := max(-1, min(1, w.turns))
			if w.turns != s || sign[w.stroke] == -s {
				self = append(self, w.stroke)
			}
			sign[w.stroke] = s
		}
	}
	slices.Sort(self)
	return slices.Compact(self)
}

// places lists the boxes of the strokes that cross.
func (x crossings) places(b *budget.Budget, c *cells) []finding.Place {
	crossed := map[int32]bool{}
	for _, p := range x.pairs {
		crossed[p[0]], crossed[p[1]] = true, true
	}
	all := slices.Clone(x.self)
	for s, first := range x.first {
		b.Step()
		if crossed[first] {
			all = append(all, s)
		}
	}
	slices.Sort(all)
	var places []finding.Place
	for _, s := range slices.Compact(all) {
		b.Spend(1 + len(c.strokes[s].Path.Segments))
		places = append(places, placeOf(&c.strokes[s], c.strokes[s].Path.Bounds()))
	}
	return places
}
