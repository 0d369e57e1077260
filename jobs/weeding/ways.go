package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/disjoint"
)

// way is the lettering that runs one way.
type way struct {
	turn    float64 // from the x axis, radians anticlockwise
	members []candidate
}

const (
	// fewestTurned is how many figures together can tell how they are turned, where the
	// edges of a single X or K mislead.
	fewestTurned = 3
	// matchShare is how much sides of letters of one size differ, of the smaller
	// figure's side: round letters are that much higher (common practice, no source).
	matchShare = 0.03
	// slimmest is how many times its width a letter or a mark is high at most; a bold I is
	// four, a thin one twelve (common practice, no source).
	slimmest = 16
	// quarterOver is how many times as many letters have to be alike the other way.
	quarterOver = 3
)

// ways sorts candidates by how their lettering is turned. What lies together is turned alike;
// what is too little to tell is turned as all of it.
func (c lettering) ways(found []candidate) []way {
	together := disjoint.New(len(found))
	upright := c.compare(found, func(i, j int, a, b geometry.Box) {
		if gap(a, b) <= nextShare/2*math.Max(math.Max(a.Width(), a.Height()), math.Max(b.Width(), b.Height())) {
			together.Join(i, j)
		}
	})
	groups := together.All()
	turns, told := make([]float64, len(groups)), make([]bool, len(groups))
	members, whole := make([][]candidate, len(groups)), &edges{}
	var every []figure
	for k, group := range groups {
		for _, i := range group {
			members[k] = append(members[k], found[i])
		}
		figures := c.figures(members[k])
		e := c.edges(figures)
		whole.add(e)
		every = append(every, figures...)
		if len(group) >= fewestTurned && len(groups) > 1 {
			if turns[k], told[k] = c.tilt(figures, e); told[k] {
				turns[k] += c.sidesAt(turns[k], members[k]).turn()
			}
		}
	}
	turn := upright.turn()
	if tilt, _ := c.tilt(every, whole); tilt != 0 {
		turn = tilt + c.sidesAt(tilt, found).turn()
	}
	var all []way
	number := map[float64]int{}
	for k := range groups {
		if !told[k] {
			turns[k] = turn
		}
		at, seen := number[turns[k]]
		if !seen {
			at = len(all)
			number[turns[k]] = at
			all = append(all, way{turn: turns[k]})
		}
		all[at].members = append(all[at].members, members[k]...)
	}
	return all
}

// gap returns how far apart two boxes lie along the axis along which that is more.
func gap(a, b geometry.Box) float64 {
	return math.Max(math.Max(a.Min.X-b.Max.X, b.Min.X-a.Max.X), math.Max(a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y))
}

// sidesAt compares candidates that are taken to be turned.
func (c lettering) sidesAt(turn float64, some []candidate) *sides {
	c.turned = turn
	return c.compare(some, func(int, int, geometry.Box, geometry.Box) {})
}

// compare holds candidates, as they lie along the lettering, against those beside them,
// and calls f for each two. Rules are left out.
func (c lettering) compare(some []candidate, f func(i, j int, a, b geometry.Box)) *sides {
	var all []figure
	var of []int
	for i, one := range some {
		if box := c.outline(one); max(box.Width(), box.Height()) <= slimmest*min(box.Width(), box.Height()) {
			all, of = append(all, figure{Box: box}), append(of, i)
		}
	}
	s := &sides{along: newMates(len(all)), across: newMates(len(all))}
	near := newCrowd(c.budget, all)
	for i := range all {
		near.eachNear(all[i].Box, func(j int) {
			f(of[i], of[j], all[i].Box, all[j].Box)
			s.see(i, j, all[i].Box, all[j].Box)
		})
	}
	return s
}

// sides counts which sides figures have in common with those beside them.
type sides struct {
	along, across *mates // alike from foot to top, or from side to side, and not both
	left, right   int    // pairs that stand on one line at that side
}

func (s *sides) see(i, j int, a, b geometry.Box) {
	wide, high := matchShare*math.Min(a.Width(), b.Width()), matchShare*math.Min(a.Height(), b.Height())
	sameWide, sameHigh := math.Abs(a.Width()-b.Width()) <= wide, math.Abs(a.Height()-b.Height()) <= high
	foot, top := math.Abs(a.Min.Y-b.Min.Y) <= high, math.Abs(a.Max.Y-b.Max.Y) <= high
	left, right := math.Abs(a.Min.X-b.Min.X) <= wide, math.Abs(a.Max.X-b.Max.X) <= wide
	if foot && top && !sameWide {
		s.along.pair(i, j)
	}
	if left && right && !sameHigh {
		s.across.pair(i, j)
	}
	if left {
		s.left++
	}
	if right {
		s.right++
	}
}

// turn returns by how much lettering runs another way than it is taken to, 0 or a quarter
// of a turn: the letters of a line are alike from foot to top, and not from side to side.
// Whether a line runs up or down is told by the side at which more of them stand.
func (s *sides) turn() float64 {
	switch {
	case s.across.n < fewestTurned || s.across.n < quarterOver*s.along.n:
		return 0
	case s.left > s.right:
		return -math.Pi / 2 // downwards
	}
	return math.Pi / 2
}

// mates counts the figures that have another of their kind beside them.
type mates struct {
	has []bool
	n   int
}

func newMates(figures int) *mates { return &mates{has: make([]bool, figures)} }

func (m *mates) pair(i, j int) {
	for _, k := range [2]int{i, j} {
		if !m.has[k] {
			m.has[k] = true
			m.n++
		}
	}
}
