package table

// corner is a point of a cell, in cells from its lower left corner.
type corner struct{ u, v float64 }

// hair is by how much, in steps, a polygon may reach past one that is said to
// cover it: far less than what is given away.
const hair = 0.01

// needed returns the polygons of a cell that have an area there which no other
// covers alone.
func needed(polygons [][]side) [][]side {
	parts := make([][]corner, len(polygons))
	for i, sides := range polygons {
		parts[i] = clipped(sides)
	}
	var kept [][]side
	for i, part := range parts {
		if len(part) > 0 && !coveredElsewhere(part, polygons, parts, i) {
			kept = append(kept, polygons[i])
		} else {
			parts[i] = nil
		}
	}
	return kept
}

func coveredElsewhere(part []corner, polygons [][]side, parts [][]corner, self int) bool {
	for k, sides := range polygons {
		if k != self && len(parts[k]) > 0 && covers(sides, part) {
			return true
		}
	}
	return false
}

func covers(sides []side, part []corner) bool {
	for i := range sides {
		for _, at := range part {
			if sides[i].beyond(at) < -hair {
				return false
			}
		}
	}
	return true
}

// beyond is how far a point lies inside a side, in steps; below 0 outside.
func (s *side) beyond(at corner) float64 {
	return float64(float64(s.nx)*at.u) + float64(float64(s.ny)*at.v) - float64(s.c)
}

// clipped returns the corners of the part of a cell that lies within all sides
// (Sutherland and Hodgman 1974).
func clipped(sides []side) []corner {
	part := []corner{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	for i := range sides {
		var next []corner
		for k, at := range part {
			to := part[(k+1)%len(part)]
			d, e := sides[i].beyond(at), sides[i].beyond(to)
			if d >= 0 {
				next = append(next, at)
			}
			if (d >= 0) != (e >= 0) {
				t := d / (d - e)
				next = append(next, corner{at.u + float64(t*(to.u-at.u)), at.v + float64(t*(to.v-at.v))})
			}
		}
		part = next
	}
	return part
}
