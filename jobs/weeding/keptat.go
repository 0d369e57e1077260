package weeding

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// KeptAt returns the number of the kept region in which a point of the artwork lies; 0 where
// it lies in none.
func (m *Map) KeptAt(b *budget.Budget, p geometry.Point) int {
	for i := range m.Regions {
		r := &m.Regions[i]
		if b.Step(); !r.Kept() || !r.Outer.Bounds().Contains(p) {
			continue
		}
		rings := [][]geometry.Point{r.Outer.FlattenIn(b, geometry.DefaultChord)}
		for _, hole := range r.Holes {
			rings = append(rings, hole.FlattenIn(b, geometry.DefaultChord))
		}
		if near.Inside(p, rings...) {
			return r.Number
		}
	}
	return 0
}
