package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// load makes loads of sheets and puts the copies on them. Of sheets on a mat a load
// takes as many as the mat carries.
func (l *Layout) load(b *budget.Budget, piece Piece, req Request, a area, sheets []sheet) {
	s, most, copies := req.Stock, a.sheetsAtOnce(req), 0
	for first := 0; first < len(sheets); first += most.column * most.row {
		on := sheets[first:min(len(sheets), first+most.column*most.row)]
		load := Load{Number: len(l.Loads) + 1, WidthMM: s.WidthMM, LengthMM: s.LengthMM, MatID: a.mat.ID}
		origins := []geometry.Point{a.box.Min}
		switch {
		case a.roll:
			load.LengthMM = drawn(on[0].lengthMM, s)
		case len(on) > 1:
			load.Sheets, load.WidthMM, load.LengthMM = most.sheets(len(on), s)
			origins = origins[:0]
			for _, sheet := range load.Sheets {
				origins = append(origins, a.box.Min.Add(sheet.Min))
			}
		}
		for i, sheet := range on {
			for _, at := range sheet.spots {
				b.Step()
				copies++
				load.Placements = append(load.Placements, placed(piece, origins[i], at, copies, l.Mirrored))
			}
		}
		l.Loads = append(l.Loads, load)
	}
}
