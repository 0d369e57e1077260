package weeding

import (
	"runtime"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
)

// part is one region of the map with what was measured of it.
type part struct {
	base *base
	of   int // number of the base region, 0 for its first part
	lump
	shape clearance.Shape
}

// room returns the part ready to be measured.
func (p *part) room(b *budget.Budget) *clearance.Region { return clearance.NewRegion(b, p.rings...) }

// survey holds the regions of the map with what was measured of them.
type survey struct {
	split
	parts   []part // by number
	regions []Region
	work    Effort
	risk    string // what was decided about parts below the limits
}

// measure makes the regions of the map. The first part of a base region has
// the base's number; further parts are numbered after all base regions.
func (d split) measure() survey {
	s := survey{split: d}
	var more []part
	for i := range s.base {
		b := &s.base[i]
		for k, one := range b.parts {
			if k == 0 {
				s.parts = append(s.parts, part{base: b, lump: one})
			} else {
				more = append(more, part{base: b, of: i + 1, lump: one})
			}
		}
	}
	s.parts = append(s.parts, more...)
	s.regions = make([]Region, len(s.parts))
	touches := s.touches() // before there are outlines of regions: either takes much room
	order := s.largestFirst()
	budget.Each(s.budget, runtime.GOMAXPROCS(0), len(s.parts), func(own *budget.Budget, k int) {
		i := order[k]
		p := &s.parts[i]
		if p.base.class == Kept {
			l := s.strokeLevels()
			p.shape = p.room(own).Measure(own, l[0], l[1:]...)
		} else {
			p.shape = p.room(own).Measure(own, s.limits.NeckMM)
		}
		s.regions[i] = s.region(own, i+1, p)
		s.regions[i].Touches = touches[i]
	})
	return s
}

// largestFirst lists the parts by how much there is to measure, so that the
// processors finish together.
func (s *survey) largestFirst() []int {
	order, corners := make([]int, len(s.parts)), make([]int, len(s.parts))
	for i := range s.parts {
		order[i] = i
		for _, ring := range s.parts[i].rings {
			corners[i] += len(ring)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		s.budget.Step()
		return corners[b] - corners[a]
	})
	return order
}

func (s *survey) region(own *budget.Budget, number int, p *part) Region {
	r := Region{
		Number: number, Of: p.of, Class: p.base.class, Depth: s.cells.depth[p.base.face],
		Outer: geometry.Polygon(p.rings[0]...),
		Pick:  p.shape.Pole.Centre, PickRadiusMM: p.shape.Pole.Radius,
	}
	for i, ring := range p.rings {
		own.Spend(2 * len(ring))
		r.AreaMM2 += ringArea(ring)
		r.PerimeterMM += ringLength(ring)
		if i > 0 {
			r.Holes = append(r.Holes, geometry.Polygon(ring...))
		}
	}
	if least := p.shape.Least; least != nil {
		r.LeastWidthMM, r.LeastWidthAt = least.WidthMM, &least.At
	}
	r.Fragile = r.Kept() && r.AreaMM2 < s.limits.FragileMM2
	return r
}

// ringArea returns the area inside a ring, negative for a hole, which runs
// clockwise.
func ringArea(ring []geometry.Point) float64 {
	sum := 0.0
	for i := 2; i < len(ring); i++ {
		sum += ring[i-1].Sub(ring[0]).Cross(ring[i].Sub(ring[0]))
	}
	return sum / 2
}

func ringLength(ring []geometry.Point) float64 {
	sum := 0.0
	for i, p := range ring[1:] {
		sum += ring[i].Dist(p)
	}
	return sum + ring[len(ring)-1].Dist(ring[0])
}
