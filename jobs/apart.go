package jobs

import (
	"cmp"
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// layApart lays the pieces of a kit each by itself, all copies of them together, where
// that takes less stock than whole copies do. Nil: it may not be, or does not, or the drawing is one
// piece, or made in panels, or has lines beside its pieces that would be lost, or a piece fits on no sheet.
func layApart(ctx context.Context, q layout.Request, m *weeding.Map, whole *layout.Layout) (*layout.Layout, error) {
	if !q.Apart || whole.Panels != nil {
		return nil, nil
	}
	var parts []layout.Again
	var maps []*weeding.Map
	var lost error
	err := budget.Run(ctx, func(b *budget.Budget) { parts, maps, lost = apartMaps(b, q, m) })
	if err = cmp.Or(err, lost); err != nil || len(parts) < 2 {
		return nil, err
	}
	s, err := layParts(ctx, q, parts, m, maps)
	if err != nil || len(s.Loads) == 0 || s.Usage.StockMM2 >= whole.Usage.StockMM2 {
		return nil, err
	}
	for _, p := range s.Shares {
		if p.Left {
			return nil, nil
		}
	}
	return &s.Layout, nil
}

// apartMaps are the parts of a drawing, as often as it is copied, with their maps; none
// where it has lines that belong to no part.
func apartMaps(b *budget.Budget, q layout.Request, m *weeding.Map) (parts []layout.Again, maps []*weeding.Map, err error) {
	strokes := 0
	all := m.Apart(b)
	for _, part := range all {
		one, err := m.Alone(b, part, q.Chart)
		if err != nil {
			return nil, nil, err
		}
		strokes += len(part.Strokes)
		parts, maps = append(parts, layout.Again{Piece: part.Regions[0], Copies: q.Copies}), append(maps, one)
	}
	if strokes < len(m.Bare().Strokes) {
		return nil, nil, nil
	}
	return parts, maps, nil
}
