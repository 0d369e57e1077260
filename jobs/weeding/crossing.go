package weeding

import (
	"cmp"
	"slices"

	"knifedesk/jobs/finding"
)

// crossings are the closed strokes that run over each other.
type crossings struct {
	pairs [][2]int32 // in order, the smaller stroke first
	self  []int32    // strokes that run over themselves, in order
}

func (x crossings) none() bool { return len(x.pairs) == 0 && len(x.self) == 0 }

// crossings finds them. Of two strokes that cross, one has edges inside and
// edges outside the other; strokes that only touch, or share an edge, have
// not. A stroke crosses itself where it runs twice round a face, or round
// faces in both directions.
func (c *cells) crossings() crossings {
	var x crossings
	sides := map[[2]int32]uint8{} // 1: inside, 2: outside
	for _, p := range c.meetings() {
		sides[p] = 0
	}
	partners := map[int32][]int32{}
	for p := range sides {
		partners[p[0]] = append(partners[p[0]], p[1])
	}
	for edge := range c.Edges {
		left, on := c.Edges[edge].Left, c.closedOn(int32(edge))
		for _, a := range on {
			for _, b := range partners[a] {
				if slices.Contains(on, b) {
					continue
				}
				if c.turns(left, b) != 0 {
					sides[[2]int32{a, b}] |= 1
				} else {
					sides[[2]int32{a, b}] |= 2
				}
			}
		}
	}
	for p, s := range sides {
		if s == 3 {
			x.pairs = append(x.pairs, [2]int32{min(p[0], p[1]), max(p[0], p[1])})
		}
	}
	slices.SortFunc(x.pairs, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	x.pairs = slices.Compact(x.pairs)
	x.self = c.selfCrossings()
	return x
}

// closedOn returns the closed strokes that run along an edge.
func (c *cells) closedOn(edge int32) []int32 {
	var on []int32
	for _, line := range c.Sources(edge) {
		s := c.stroke[line]
		if st := &c.strokes[s]; st.Path.Closed && !invisible(st) && !slices.Contains(on, s) {
			on = append(on, s)
		}
	}
	return on
}

// meetings lists the ordered pairs of closed strokes that share a corner of
// the map.
func (c *cells) meetings() [][2]int32 {
	first := make([]int32, c.NumVertices()) // stroke plus one
	var pairs [][2]int32
	met := map[int32][]int32{}
	for edge := range c.Edges {
		e := c.Edges[edge]
		for _, s := range c.closedOn(int32(edge)) {
			for _, v := range [2]int32{e.From, e.To} {
				if first[v] == 0 {
					first[v] = s + 1
				} else if first[v] != s+1 && !slices.Contains(met[v], s) {
					met[v] = append(met[v], s)
				}
			}
		}
	}
	for v, others := range met {
		all := append([]int32{first[v] - 1}, others...)
		for _, a := range all {
			for _, b := range all {
				if a != b {
					pairs = append(pairs, [2]int32{a, b})
				}
			}
		}
	}
	return pairs
}

func (c *cells) selfCrossings() []int32 {
	sign := map[int32]int32{}
	var self []int32
	for _, ws := range c.round {
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
func (x crossings) places(c *cells) []finding.Place {
	var all []int32
	for _, p := range x.pairs {
		all = append(all, p[0], p[1])
	}
	all = append(all, x.self...)
	slices.Sort(all)
	var places []finding.Place
	for _, s := range slices.Compact(all) {
		places = append(places, placeOf(&c.strokes[s], c.strokes[s].Path.Bounds()))
	}
	return places
}
