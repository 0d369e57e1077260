package passes

import (
	"slices"

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

// allOf lists the strokes of which is told what a setting, the knife or the grain lacks:
// those of the piece, or where several drawings share the loads those of all loads.
func allOf(laid *layout.Layout, piece []artwork.Stroke) []artwork.Stroke {
	if !laid.Shared() {
		return piece
	}
	return slices.Concat(partsOf(laid, nil)...)
}

// unplace takes the places off what was found: on one of several loads a place without its
// load says nothing.
func (p *Plan) unplace() {
	for i := range p.Findings {
		p.Findings[i].Places = nil
	}
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
