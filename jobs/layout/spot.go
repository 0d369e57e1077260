package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/workshop"
)

// spot is where the rectangle of a copy lies: its lower left corner from that of
// the area, in mm, and by how many quarters the copy is turned.
type spot struct {
	corner  geometry.Point
	quarter int
}

// sheet is the spots of one sheet, or of one run, and the length that they take of
// it in mm, with one gap too many at the end.
type sheet struct {
	spots    []spot
	lengthMM float64
}

// equal lays so many equal rectangles out: on the fewest sheets, or on the runs that take
// the least of a roll.
func (a area) equal(b *budget.Budget, size nest.Size, s workshop.Stock, n int, allowed nest.Turns) (nest.Arrangement, bool) {
	if a.roll {
		return nest.Runs(b, size, sizeOf(a.box), s.GapMM, a.eachRun(s), n, allowed)
	}
	return nest.Equal(b, size, sizeOf(a.box), s.GapMM, n, allowed)
}

// eachRun is what every run of a roll takes besides its copies, of which each has a gap
// behind it, in mm.
func (a area) eachRun(s workshop.Stock) float64 {
	free := a.box.Min.Y - s.LeadMM // at both ends
	return math.Max(0, drawn(0, s)+2*free)
}

// inRows returns the sheets of an arrangement.
func inRows(a nest.Arrangement) []sheet {
	spots := func(slots []nest.Slot) []spot {
		all := make([]spot, len(slots))
		for i, at := range slots {
			all[i].corner = geometry.Pt(float64(at.XUM)/1000, float64(at.YUM)/1000)
			if at.Turned {
				all[i].quarter = 1
			}
		}
		return all
	}
	full := sheet{spots(a.Full), float64(a.FullUM) / 1000}
	var all []sheet
	for range a.FullSheets {
		all = append(all, full)
	}
	if len(a.Rest) > 0 {
		all = append(all, sheet{spots: spots(a.Rest)})
	}
	all[len(all)-1].lengthMM = float64(a.LengthUM) / 1000
	return all
}

// placed returns the copy of piece in a spot counted from origin. Turns and
// mirrors are written as whole numbers, so they add no rounding.
func placed(piece Piece, origin geometry.Point, at spot, number int, mirrored bool) Placement {
	b := piece.Bounds
	w, h := b.Width(), b.Height()
	m := geometry.Translate(-b.Min.X, -b.Min.Y)
	if mirrored {
		m = m.Then(geometry.Affine{A: -1, D: 1, E: w})
	}
	switch at.quarter {
	case 1:
		m = m.Then(geometry.Affine{B: 1, C: -1, E: h})
	case 2:
		m = m.Then(geometry.Affine{A: -1, D: -1, E: w, F: h})
	case 3:
		m = m.Then(geometry.Affine{B: -1, C: 1, F: w})
	}
	if at.quarter%2 == 1 {
		w, h = h, w
	}
	corner := origin.Add(at.corner)
	return Placement{
		Copy: number, TurnDeg: 90 * float64(at.quarter), Transform: m.Then(geometry.Translate(corner.X, corner.Y)),
		Bounds: geometry.Box{Min: corner, Max: corner.Add(geometry.Pt(w, h))},
	}
}
