package weeding

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
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
// boundary with it. Which lie along the lines of the drawing is known from the map;
// what relief lines part is compared side by side.
func (s *survey) touches() [][]int {
	t := touching{s.budget, make([][]int, len(s.parts))}
	at := s.wholes()
	s.budget.Spend(len(s.cells.Edges))
	for i := range s.cells.Edges {
		if e := &s.cells.Edges[i]; e.Left != e.Right && at[e.Left] >= 0 && at[e.Right] >= 0 {
			t.meet(int(at[e.Left]), int(at[e.Right]))
		}
	}
	if rest := t.alone(s.between(&t, at)); len(rest) > 0 {
		t.search(rest)
	}
	for i, met := range t.met {
		s.budget.Spend(1 + len(met))
		slices.Sort(met)
		t.met[i] = slices.Compact(met)
	}
	return t.met
}

// Of a face that is none of the regions, or that relief lines split into several.
const (
	noRegion = -1
	divided  = -2
)

// wholes returns by face the place of its region, noRegion or divided.
func (s *survey) wholes() []int32 {
	at := make([]int32, len(s.cells.Faces))
	for f := range at {
		at[f] = noRegion
	}
	for i := range s.base {
		b := &s.base[i]
		s.budget.Step()
		if at[b.face] = int32(i); len(b.parts) > 1 {
			at[b.face] = divided
		}
	}
	return at
}

// between meets the parts of divided regions and the whole regions beside them, and lists
// the sides of such parts that run along something else: relief lines, or lines of the
// drawing with parts of divided regions on both sides.
func (s *survey) between(t *touching, at []int32) (rest []borderSide) {
	for i := range s.parts {
		p := &s.parts[i]
		if p.on == nil || len(p.base.parts) == 1 {
			continue
		}
		ring := p.rings[0]
		s.budget.Spend(len(ring))
		for k, q := range ring {
			other := int32(divided)
			if on := p.on[k]; on != clearance.NoSide {
				if other = noRegion; p.base.sides[on] != noHalfEdge {
					other = at[s.cells.Face(p.base.sides[on].Twin())]
				}
			}
			switch {
			case other >= 0:
				t.meet(i, int(other))
			case other == divided:
				rest = append(rest, borderSide{q, ring[(k+1)%len(ring)], i})
			}
		}
	}
	return rest
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
