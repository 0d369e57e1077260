package layout

import (
	"knifedesk/geometry"
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

// Placed returns a copy whose rectangle has its lower left corner at a point, turned by
// so many quarters.
func Placed(piece Piece, corner geometry.Point, quarter int, mirrored bool) Placement {
	return placed(piece, geometry.Point{}, spot{corner, quarter}, 1, mirrored)
}

// Lowest returns the lower left corner of the rectangle of a piece that is turned.
func Lowest(piece Piece, quarter int) geometry.Point { return lowest(piece, quarter) }

// TurnsOf lists the turns of copies that may be mixed, where rows begin with the first.
func TurnsOf(straight, quarter, one bool, first int) [][]int {
	rows := []sheet{{spots: []spot{{quarter: first}}}}
	return turnsOf(Request{OneTurn: one}, nest.Turns{Straight: straight, Quarter: quarter}, rows)
}
