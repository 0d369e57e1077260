package weeding

import (
	"math"

	"knifedesk/geometry"
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
	// quarterOver is how many times as many letters have to be alike the other way.
	quarterOver = 3
)

// ways sorts candidates by how their lettering is turned. What lies together is turned alike;
// what is too little to tell is turned as all of it.
func (c lettering) ways(found []candidate) []way {
	boxes := c.boxed(found)
	together := newSets(c.budget, len(found))
	near := newCrowd(c.budget, boxes)
	for i := range boxes {
		near.eachNear(boxes[i].Box, func(j int) {
			a, b := boxes[i].Box, boxes[j].Box
			if gap(a, b) <= nextShare/2*math.Max(math.Max(a.Width(), a.Height()), math.Max(b.Width(), b.Height())) {
				together.join(i, j)
			}
		})
	}
	whole, _ := c.turn(found)
	var all []way
	number := map[float64]int{}
	for _, group := range together.all() {
		some := make([]candidate, len(group))
		for k, i := range group {
			some[k] = found[i]
		}
		turn := whole
		if len(some) >= fewestTurned && len(some) < len(found) {
			if own, told := c.turn(some); told {
				turn = own
			}
		}
		k, seen := number[turn]
		if !seen {
			k = len(all)
			number[turn] = k
			all = append(all, way{turn: turn})
		}
		all[k].members = append(all[k].members, some...)
	}
	return all
}

// gap returns how far apart two boxes lie along the axis along which that is more.
func gap(a, b geometry.Box) float64 {
	return math.Max(math.Max(a.Min.X-b.Max.X, b.Min.X-a.Max.X), math.Max(a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y))
}

// boxed returns candidates as they lie along the lettering, whatever they are.
func (c lettering) boxed(some []candidate) []figure {
	all := make([]figure, len(some))
	for i, one := range some {
		all[i].Box = c.outline(one.face)
	}
	return all
}

// turn returns by how much the lettering of some candidates is turned, in radians
// anticlockwise, and whether it tells.
func (c lettering) turn(some []candidate) (turn float64, told bool) {
	c.turned, told = c.tilt(c.figures(some))
	return c.turned + math.Pi/2*float64(c.quarters(c.boxed(some))), told
}

// quarters returns by how many quarters of a turn lettering runs another way than it is
// taken to: the letters of a line are alike from foot to top, and not from side to
// side. Whether a line runs up or down is told by the side at which more of them stand.
func (c lettering) quarters(all []figure) int {
	along, across := newMates(len(all)), newMates(len(all))
	left, right := 0, 0
	near := newCrowd(c.budget, all)
	for i := range all {
		near.eachNear(all[i].Box, func(j int) {
			a, b := all[i].Box, all[j].Box
			wide, high := matchShare*math.Min(a.Width(), b.Width()), matchShare*math.Min(a.Height(), b.Height())
			sameWide, sameHigh := math.Abs(a.Width()-b.Width()) <= wide, math.Abs(a.Height()-b.Height()) <= high
			foot, top := math.Abs(a.Min.Y-b.Min.Y) <= high, math.Abs(a.Max.Y-b.Max.Y) <= high
			atLeft, atRight := math.Abs(a.Min.X-b.Min.X) <= wide, math.Abs(a.Max.X-b.Max.X) <= wide
			if foot && top && !sameWide {
				along.pair(i, j)
			}
			if atLeft && atRight && !sameHigh {
				across.pair(i, j)
			}
			if atLeft {
				left++
			}
			if atRight {
				right++
			}
		})
	}
	switch {
	case across.n < fewestTurned || across.n < quarterOver*along.n:
		return 0
	case left > right:
		return -1 // downwards
	}
	return 1
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
