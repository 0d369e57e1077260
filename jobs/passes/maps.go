package passes

import (
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// partsOf lists the strokes of what lies on the loads of a layout: those of each map of
// its own, or of the piece alone.
func partsOf(laid *layout.Layout, piece []artwork.Stroke) [][]artwork.Stroke {
	if len(laid.Maps) == 0 {
		return [][]artwork.Stroke{piece}
	}
	parts := make([][]artwork.Stroke, len(laid.Maps))
	for i, m := range laid.Maps {
		parts[i] = m.Strokes
	}
	return parts
}

// partSteps returns the steps of each of these, those of the piece where it is whole. What
// is to be told of them was told of the piece.
func partSteps(b *budget.Budget, laid *layout.Layout, piece []step, req Request, by workshop.Compensation) [][]step {
	if len(laid.Maps) == 0 {
		return [][]step{piece}
	}
	var all [][]step
	for _, part := range partsOf(laid, nil) {
		all = append(all, new(Plan).steps(b, part, req, by))
	}
	return all
}
