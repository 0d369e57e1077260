package weeding

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// touching gathers which regions adjoin each other.
type touching struct {
	budget *budget.Budget
	met    [][]int // by region: the numbers of the others, some more than once
}

func (t *touching) meet(a, b int) {
	if a != b {
		t.note(a, b+1)
		t.note(b, a+1)
	}
}

func (t *touching) note(region, number int) {
	if met := t.met[region]; len(met) == 0 || met[len(met)-1] != number {
		t.met[region] = append(met, number)
	}
}

// borderSide is one side of the boundary of a part, the part on its left.
type borderSide struct {
	from, to geometry.Point
	part     int
}

// touches lists for every region the numbers of its neighbours, those that share a stretch of
// boundary with it. Most sides run back exactly along one of the neighbour; the
// others end where a relief line does, between the corners of the neighbour.
func (s *survey) touches() [][]int {
	t := touching{s.budget, make([][]int, len(s.parts))}
	rest := t.alone(s.sides())
	if slices.ContainsFunc(s.base, func(b base) bool { return len(b.ties) > 0 }) {
		t.search(rest) // else what is left borders on the outside
	}
	for i, met := range t.met {
		s.budget.Spend(1 + len(met))
		slices.Sort(met)
		t.met[i] = slices.Compact(met)
	}
	return t.met
}

// sides lists the sides of all parts.
func (s *survey) sides() []borderSide {
	n := 0
	for i := range s.parts {
		for _, ring := range s.parts[i].rings {
			n += len(ring)
		}
	}
	all := make([]borderSide, 0, n)
	for i := range s.parts {
		for _, ring := range s.parts[i].rings {
			s.budget.Spend(len(ring))
			for k, q := range ring {
				all = append(all, borderSide{q, ring[(k+1)%len(ring)], i})
			}
		}
	}
	return all
}

// alone meets the parts of sides that run back exactly along each other, and
// returns the sides that none does.
func (t *touching) alone(all []borderSide) (rest []borderSide) {
	index, paired := newSideIndex(all), make([]bool, len(all))
	for i, a := range all {
		t.budget.Spend(2)
		if k := index.find(a.to, a.from); k >= 0 {
			t.meet(a.part, all[k].part)
			paired[i], paired[k] = true, true
		}
		index.add(i)
	}
	for i, a := range all {
		if !paired[i] {
			rest = append(rest, a)
		}
	}
	return rest
}

// search finds the sides that run back along each other.
func (t *touching) search(sides []borderSide) {
	slices.SortFunc(sides, func(a, b borderSide) int {
		t.budget.Step()
		return cmp.Compare(math.Min(a.from.X, a.to.X), math.Min(b.from.X, b.to.X))
	})
	boxes := make([]geometry.Box, len(sides))
	for i, a := range sides {
		boxes[i] = geometry.BoxAround(a.from, a.to)
	}
	tree := near.NewTree(t.budget, boxes)
	for i, a := range sides {
		tree.Each(t.budget, boxes[i].Grow(onLine), func(j int) bool {
			if b := sides[j]; j > i && a.part != b.part && a.backAlong(b) {
				t.meet(a.part, b.part)
			}
			return true
		})
	}
}

// onLine is how far in mm a point on a side may lie off it by rounding: the
// ends of relief lines are computed, and lie on no grid.
const onLine = 1e-7

// backAlong reports whether b runs back along a for a stretch.
func (a borderSide) backAlong(b borderSide) bool {
	if math.Min(b.from.Y, b.to.Y) > math.Max(a.from.Y, a.to.Y)+onLine || math.Max(b.from.Y, b.to.Y) < math.Min(a.from.Y, a.to.Y)-onLine {
		return false
	}
	u := a.to.Sub(a.from).Unit()
	p, q := b.to.Sub(a.from), b.from.Sub(a.from) // p comes first along a
	lo, hi := math.Max(0, u.Dot(p)), math.Min(a.from.Dist(a.to), u.Dot(q))
	return hi-lo > onLine && math.Abs(u.Cross(p)) < onLine && math.Abs(u.Cross(q)) < onLine
}
