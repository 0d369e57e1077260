package knife

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Corner is a place where a line turns at once.
type Corner struct {
	At  geometry.Point
	Deg float64 // between the two lines that meet there
}

// Sharp lists the corners of a line, its closure among them, that are sharper than an
// angle in degrees.
func Sharp(b *budget.Budget, line geometry.Path, below float64) []Corner {
	var all []Corner
	most := math.Cos(below * math.Pi / 180)
	from, before := line.Start, geometry.Point{}
	if line.Closed {
		before = startHeading(line.Reversed()).Mul(-1)
	}
	for _, s := range line.Segments {
		b.Step()
		first, last := Headings(from, s)
		if first != (geometry.Point{}) {
			if cos := -before.Dot(first); before != (geometry.Point{}) && cos > most+1e-9 {
				all = append(all, Corner{from, math.Acos(math.Min(1, cos)) * 180 / math.Pi})
			}
			before = last
		}
		from = s.End
	}
	return all
}
