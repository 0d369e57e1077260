package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
)

const (
	onLineMM  = 0.02 // how near a cut past an end has to stay to a line that is cut
	pastLooks = 4    // places on it that are looked at
)

// pastEnds returns how far each open stroke of a cut is run past its two ends.
//
// Where pieces share an edge it is cut once, and what is left of the other outline is a
// line that ends on another. There a corner would hang by a fibre, as at a closure, so
// it is cut past by the overcut of the blade, where another line that is cut anyway goes
// straight on, so that nothing is cut that was not drawn.
func pastEnds(b *budget.Budget, strokes []artwork.Stroke, op artwork.Operation, overcut float64) [][2]float64 {
	past := make([][2]float64, len(strokes))
	if op != artwork.KissCut && op != artwork.ThroughCut || overcut <= 0 {
		return past
	}
	var chords *tour.Chords
	met := [pastLooks]int{-1, -1, -1, -1}
	for i := range strokes {
		path := &strokes[i].Path
		if path.Closed || path.Empty() || strokes[i].Added != "" || strokes[i].Slit {
			continue
		}
		if chords == nil {
			cs := make([]tour.Contour, len(strokes))
			for k := range strokes {
				cs[k] = tour.NewContour(b, strokes[k].Path)
			}
			chords = tour.NewChords(b, cs)
		}
		longer := knife.Past(*path, overcut, overcut)
		for end, to := range [...]geometry.Point{longer.Start, longer.End()} {
			from := path.Start
			if end == 1 {
				from = path.End()
			}
			if goesOn(b, chords, i, from, to, &met) {
				past[i][end] = overcut
			}
		}
	}
	return past
}

// goesOn reports whether other lines run all the way between two points. Of each place that
// is looked at it keeps the chord that it met, to begin with the next time.
func goesOn(b *budget.Budget, chords *tour.Chords, own int, from, to geometry.Point, met *[pastLooks]int) bool {
	for k := range met {
		on := chords.OnOther(b, own, from.Lerp(to, float64(k+1)/pastLooks), onLineMM, met[k])
		if on < 0 {
			return false
		}
		met[k] = on
	}
	return true
}
