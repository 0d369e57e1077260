package evidence

import (
	"math"

	"knifedesk/geometry"
)

// roundest is how much of a side the rounding of its two corners may take.
const roundest = 0.4

// roundedQuad reads a closed path of four straight sides with curved corners
// between them as the rectangle on which the sides lie.
func roundedQuad(p *geometry.Path) (Quad, bool) {
	if len(p.Segments) > maxSideSegments {
		return Quad{}, false
	}
	var sides []run
	from, curved := p.Start, false
	for i, s := range p.Segments {
		switch {
		case !isStraight(from, s):
			curved = true
		case s.End == from:
		case curved || len(sides) == 0:
			sides, curved = append(sides, run{from, s.End, i, i}), false
		default:
			if sides = appendRun(sides, run{from, s.End, i, i}); len(sides) > 5 {
				return Quad{}, false
			}
		}
		from = s.End
	}
	if n := len(sides); n == 5 && !curved {
		joined, ok := joinRuns(sides[4], sides[0])
		if !ok {
			return Quad{}, false
		}
		sides[0], sides = joined, sides[:4]
	}
	if len(sides) != 4 {
		return Quad{}, false
	}
	q, ok := quadOfSides(sides)
	if !ok {
		return Quad{}, false
	}
	q.Rounded = true
	across := q.Corners[1].Sub(q.Corners[0]).Unit()
	for _, side := range sides {
		whole := q.V
		if math.Abs(side.to.Sub(side.from).Unit().Dot(across)) > 0.5 {
			whole = q.U
		}
		if length(side) < (1-roundest)*whole {
			return Quad{}, false
		}
	}
	return q, true
}
