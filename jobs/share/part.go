package share

import (
	"knifedesk/geometry"
	"knifedesk/jobs/layout"
)

// Part is something that a load keeps, of a copy of a drawing.
type Part struct {
	Code string // of the drawing
	Copy int
	At   geometry.Point // within it, in the coordinates of the drawing
}

// PartOn returns what a load, by its number, keeps under the number of a region of its map;
// false where there is none, or it is not kept.
func (s *Share) PartOn(load, region int) (Part, bool) {
	if load < 1 || load > len(s.Loads) {
		return Part{}, false
	}
	l := &s.Loads[load-1]
	m := s.MapOf(l, nil)
	if region < 1 || region > len(m.Regions) || !m.Regions[region-1].Kept() {
		return Part{}, false
	}
	at := l.Placements[0].Transform.Apply(m.Regions[region-1].Pick)
	for _, place := range l.Places {
		if place.Regions.Has(region) {
			return partOf(&place, at)
		}
	}
	return Part{}, false
}

// partOf takes a point of a load back to the drawing of the copy that it lies in.
func partOf(place *layout.MemberPlace, at geometry.Point) (Part, bool) {
	back, ok := place.Transform.Inverse()
	return Part{place.Code, place.Copy, back.Apply(at)}, ok
}
