package layout

import (
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
)

// NestedBy lays the copies of a piece by their shapes, no more than most at once, or
// blocks of block copies along a roll.
func NestedBy(b *budget.Budget, piece Piece, req Request, most, block int) (*Layout, error) {
	l := &Layout{}
	l.mirror(req)
	area := l.usable(piece, req)
	allowed := l.turns(piece, req, area)
	rows, _ := nest.Equal(b, piece.size(), sizeOf(area.box), req.Stock.GapMM, req.Copies, allowed)
	shape, err := piece.shape(b, l.Mirrored)
	if err != nil {
		return nil, err
	}
	t := task{b, piece, req, area, shape, most, block}
	l.load(b, piece, req, area, t.sheets(turnsOf(req, allowed, inRows(rows))[0], inRows(rows)))
	return l, nil
}
