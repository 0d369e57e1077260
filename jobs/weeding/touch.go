package weeding

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// touching gathers which regions adjoin each other.
type touching struct {
	budget *budget.Budget
	met    []map[int]bool // by region: the numbers of the others
}

func (t touching) meet(a, b int) {
	if a != b {
		t.met[a][b+1], t.met[b][a+1] = true, true
	}
}

// borderSide is one side of the boundary of a part, the part on its left.
type borderSide struct {
	from, to geometry.Point
	part     int
}

// touch lists for every region its neighbours, those that share a stretch of
// boundary with it. Most sides run back exactly along one of the neighbour; the
// others end where a relief line does, between the corners of the neighbour.
func (s *survey) touch() {
	t := touching{s.budget, make([]map[int]bool, len(s.parts))}
	owner := map[[2]geometry.Point]int{}
	for i := range s.parts {
		t.met[i] = map[int]bool{}
		s.parts[i].eachSide(func(from, to geometry.Point) {
			s.budget.Step()
			owner[[2]geometry.Point{from, to}] = i
		})
	}
	var rest []borderSide
	for i := range s.parts {
		s.parts[i].eachSide(func(from, to geometry.Point) {
			s.budget.Step()
			if other, ok := owner[[2]geometry.Point{to, from}]; ok {
				t.meet(i, other)
			} else {
				rest = append(rest, borderSide{from, to, i})
			}
		})
	}
	if slices.ContainsFunc(s.base, func(b base) bool { return len(b.ties) > 0 }) {
		t.search(rest) // else what is left borders on the outside
	}
	for i, met := range t.met {
		s.budget.Spend(1 + len(met))
		s.regions[i].Touches = slices.Sorted(maps.Keys(met))
	}
}

func (p *part) eachSide(f func(from, to geometry.Point)) {
	for _, ring := range p.rings {
		for k, q := range ring {
			f(q, ring[(k+1)%len(ring)])
		}
	}
}

// search finds the sides that run back along each other.
func (t touching) search(sides []borderSide) {
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
