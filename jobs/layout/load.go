package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/workshop"
)

// load makes loads of sheets and puts the copies on them. Of sheets on a mat a load
// takes as many as the mat carries.
func (l *Layout) load(b *budget.Budget, piece Piece, req Request, a area, sheets []sheet) {
	most, copies := a.sheetsAtOnce(req), 0
	for first := 0; first < len(sheets); first += most.column * most.row {
		on := sheets[first:min(len(sheets), first+most.column*most.row)]
		load, origins := a.empty(len(on), on[0].lengthMM, most, req.Stock)
		load.Number = len(l.Loads) + 1
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

// empty returns a load of n sheets, or of a run that copies take so much of, with one gap
// too many, and where the copies of each are counted from.
func (a area) empty(n int, lengthMM float64, most at, s workshop.Stock) (Load, []geometry.Point) {
	load := Load{WidthMM: s.WidthMM, LengthMM: s.LengthMM, MatID: a.mat.ID}
	origins := []geometry.Point{a.box.Min}
	switch {
	case a.roll:
		free := a.box.Min.Y - s.LeadMM // at both ends
		load.LengthMM = drawn(lengthMM, s) + 2*free
	case n > 1:
		load.Sheets, load.WidthMM, load.LengthMM = most.sheets(n, s)
		origins = origins[:0]
		for _, sheet := range load.Sheets {
			origins = append(origins, a.box.Min.Add(sheet.Min))
		}
	}
	return load, origins
}
