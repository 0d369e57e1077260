package weeding

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Laid is a map and where a copy of it lies in the map of a load, turned and moved but
// not turned over.
type Laid struct {
	Map  *Map
	Move geometry.Affine
}

// Numbers are those of a map that are a copy's: from From up to and without To.
type Numbers struct{ From, To int }

// Load is the map of all that lies on a load. The strokes of each copy follow each other,
// by index, and so do its regions, by number; what was added for all comes after them.
// Those of the copies that are peeled next to each other lie so too.
type Load struct {
	Map     *Map
	Strokes []Numbers // by copy
	Regions []Numbers
}

// Beside puts the maps of copies beside each other, each with all that was added to it.
func Beside(b *budget.Budget, all []Laid) *Load {
	l := &Load{Map: &Map{Purpose: all[0].Map.Purpose, Mirrored: all[0].Map.Mirrored, Copies: len(all), Bounds: geometry.EmptyBox()}}
	var efforts []Effort
	owner := []int{0} // of each region, by number
	for k, one := range all {
		m := moved(b, one)
		from := len(l.Map.Strokes)
		l.Map.Strokes = append(l.Map.Strokes, m.Strokes...)
		l.Strokes = append(l.Strokes, Numbers{from, len(l.Map.Strokes)})
		before := len(l.Map.Regions)
		for i := range m.Regions {
			m.Regions[i].shift(before)
			owner = append(owner, k)
		}
		for i := range m.Steps {
			m.Steps[i].Region += before
		}
		l.Map.Regions, l.Map.Steps = append(l.Map.Regions, m.Regions...), append(l.Map.Steps, m.Steps...)
		l.Map.Bridges = append(l.Map.Bridges, m.Bridges...)
		l.Map.Bounds = l.Map.Bounds.Union(m.Bounds)
		l.risk(m.Risk)
		efforts = append(efforts, m.Effort)
	}
	l.Map.Effort = Sum(efforts)
	l.order(b, all, owner)
	return l
}

// shift adds to all numbers of a region.
func (r *Region) shift(by int) {
	r.Number += by
	if r.Of > 0 {
		r.Of += by
	}
	for i := range r.Touches {
		r.Touches[i] += by
	}
}

// risk adds what is cut below the limits, once for all copies.
func (l *Load) risk(text string) {
	if l.Map.Risk == "" {
		l.Map.Risk = text
	}
}

// moved returns a copy of the map where it lies on the load.
func moved(b *budget.Budget, one Laid) *Map {
	t := reflection{b, one.Move}
	m := *one.Map
	m.Strokes = slices.Clone(m.Strokes)
	for i := range m.Strokes {
		m.Strokes[i].Path = t.path(m.Strokes[i].Path)
	}
	m.Regions = each(m.Regions, t.moved)
	m.Bridges = each(m.Bridges, t.path)
	m.Steps = slices.Clone(m.Steps)
	along := one.Move.ApplyVector(geometry.Pt(1, 0))
	turn := math.Atan2(along.Y, along.X) * 180 / math.Pi
	for i := range m.Steps {
		s := &m.Steps[i]
		s.Pick, s.PeelDeg = one.Move.Apply(s.Pick), turned(s.PeelDeg, turn)
	}
	corners := m.Bounds.Corners()
	box := geometry.EmptyBox()
	for _, c := range corners {
		box = box.Include(one.Move.Apply(c))
	}
	m.Bounds = box
	return &m
}

// moved moves a region without turning it over.
func (t reflection) moved(r Region) Region {
	r.Outer, r.Holes, r.Pick = t.path(r.Outer), each(r.Holes, t.path), t.m.Apply(r.Pick)
	if r.LeastWidthAt != nil {
		at := t.m.Apply(*r.LeastWidthAt)
		r.LeastWidthAt = &at
	}
	r.Touches = slices.Clone(r.Touches)
	return r
}

// turned returns a direction in degrees turned by an angle, above −180 and up to 180.
func turned(deg, by float64) float64 {
	for deg += by; deg > 180; {
		deg -= 360
	}
	for deg <= -180 {
		deg += 360
	}
	return deg
}
