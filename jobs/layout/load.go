package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
)

// load makes the loads of an arrangement and puts the copies on them. Of sheets on a
// mat a load takes as many as the mat carries.
func (l *Layout) load(b *budget.Budget, piece Piece, req Request, a area, plan nest.Arrangement) {
	slots := make([][]nest.Slot, 0, plan.Sheets())
	for range plan.FullSheets {
		slots = append(slots, plan.Full)
	}
	if len(plan.Rest) > 0 {
		slots = append(slots, plan.Rest)
	}
	s, most, copies := req.Stock, a.sheetsAtOnce(req), 0
	for first := 0; first < len(slots); first += most.column * most.row {
		on := slots[first:min(len(slots), first+most.column*most.row)]
		load := Load{Number: len(l.Loads) + 1, WidthMM: s.WidthMM, LengthMM: s.LengthMM, MatID: a.mat.ID}
		origins := []geometry.Point{a.box.Min}
		switch {
		case a.roll && first == len(slots)-1:
			load.LengthMM = drawn(plan.LengthUM, s)
		case a.roll:
			load.LengthMM = drawn(plan.FullUM, s)
		case len(on) > 1:
			load.Sheets, load.WidthMM, load.LengthMM = most.sheets(len(on), s)
			origins = origins[:0]
			for _, sheet := range load.Sheets {
				origins = append(origins, a.box.Min.Add(sheet.Min))
			}
		}
		for i, slots := range on {
			for _, at := range slots {
				b.Step()
				copies++
				load.Placements = append(load.Placements, placed(piece, origins[i], at, copies, l.Mirrored))
			}
		}
		l.Loads = append(l.Loads, load)
	}
}

// placed returns the copy of piece in a slot counted from origin. Turns and
// mirrors are written as whole numbers, so they add no rounding.
func placed(piece Piece, origin geometry.Point, at nest.Slot, number int, mirrored bool) Placement {
	b := piece.Bounds
	w, h := b.Width(), b.Height()
	m := geometry.Translate(-b.Min.X, -b.Min.Y)
	if mirrored {
		m = m.Then(geometry.Affine{A: -1, D: 1, E: w})
	}
	p := Placement{Copy: number}
	if at.Turned {
		p.TurnDeg = 90
		m = m.Then(geometry.Affine{B: 1, C: -1, E: h})
		w, h = h, w
	}
	corner := origin.Add(geometry.Pt(float64(at.XUM)/1000, float64(at.YUM)/1000))
	p.Transform = m.Then(geometry.Translate(corner.X, corner.Y))
	p.Bounds = geometry.Box{Min: corner, Max: corner.Add(geometry.Pt(w, h))}
	return p
}
