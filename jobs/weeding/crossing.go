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
	on []int32 // the strokes along the edge that is looked at
}

// crossingsOf finds the crossings of the strokes of c. Of two strokes that cross, one has edges inside and
// edges outside the other; strokes that only touch, or share an edge, have
// not. A stroke crosses itself where it runs twice round a face, or round
// faces in both directions.
//
// Of strokes that run alike along the same edges, identical copies for
// instance, only the first is looked at: what crosses one crosses all.
func crossingsOf(b *budget.Budget, of *cells) crossings {
	c := &crossing{budget: b, cells: of}
	x := crossings{first: c.alike()}
	runs := c.courses(x.first)
	met := c.junctions(runs)
	sides := make([]uint8, len(c.strokes)) // of the stroke looked at, by the other
	for s := range runs {
		partners := c.partners(int32(s), runs[s], met, sides)
		if len(partners) == 0 {
			continue
		}
		for _, edge := range runs[s] {
			c.look(edge, partners, sides)
		}
		for _, p := range partners {
			if sides[p] == partner|inside|outside {
				x.pairs = append(x.pairs, [2]int32{min(int32(s), p), max(int32(s), p)})
			}
			sides[p] = 0
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

// Where edges of one stroke lie to another that it meets.
const (
	partner uint8 = 1 << iota
	inside
	outside
)

// courses lists by closed stroke, if it is the first of its kind, its edges.
func (c *crossing) courses(first map[int32]int32) [][]int32 {
	runs, looked := make([][]int32, len(c.strokes)), make([]bool, len(c.strokes))
	for s, as := range first {
		looked[s] = s == as
	}
	for edge := range int32(len(c.Edges)) {
		c.on = c.closedOn(c.budget, edge, c.on[:0])
		for _, s := range c.on {
			if looked[s] {
				runs[s] = append(runs[s], edge)
			}
		}
	}
	return runs
}

// partners lists the strokes that share a corner of the map with s, and marks
// them in sides.
func (c *crossing) partners(s int32, edges []int32, met *junctions, sides []uint8) []int32 {
	var partners []int32
	for _, edge := range edges {
		for _, v := range [2]int32{c.Edges[edge].From, c.Edges[edge].To} {
			all := met.at(v)
			c.budget.Spend(1 + len(all)/8)
			for _, p := range all {
				if p != s && sides[p] == 0 {
					sides[p] = partner
					partners = append(partners, p)
				}
			}
		}
	}
	return partners
}

// look notes whether an edge lies inside or outside each of the partners that do
// not run along it.
func (c *crossing) look(edge int32, partners []int32, sides []uint8) {
	left := c.Edges[edge].Left
	c.on = c.closedOn(c.budget, edge, c.on[:0])
	for _, p := range partners {
		c.budget.Spend(1 + len(c.on)/8)
		switch {
		case sides[p] == partner|inside|outside || slices.Contains(c.on, p):
		case c.turns(left, p) != 0:
			sides[p] |= inside
		default:
			sides[p] |= outside
		}
	}
}

func comparePairs(a, b [2]int32) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}

func (c *crossing) selfCrossings() []int32 {
	sign := make([]int32, len(c.strokes)) // by stroke, 0: not seen yet
	var self []int32
	for _, ws := range c.entered { // whatever runs round a face came in by an edge
		c.budget.Spend(1 + len(ws))
		for _, w := range ws {
			if w.turns == 0 {
				continue
			}
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
