package mend

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// Sharing is how much of the strokes of some operations lies on strokes of
// others.
type Sharing struct {
	Count  int // strokes that share a part
	MM     float64
	Places []finding.Place
	// Times is how often, on average, the others are drawn there.
	Times float64
}

// Yield takes out of the strokes that give way what runs along a stroke that
// keeps its place. It returns the strokes that are left, and how much the two
// shared. Other strokes stay as they are.
func Yield(effort *Effort, strokes []artwork.Stroke, lim Limits, gives, keeps func(artwork.Operation) bool) ([]artwork.Stroke, Sharing) {
	if !slices.ContainsFunc(strokes, func(s artwork.Stroke) bool { return gives(s.Operation) }) {
		return strokes, Sharing{}
	}
	w := newSweep(effort, strokes, lim)
	w.yields = func(s, o artwork.Operation) bool { return gives(s) && keeps(o) }
	order := ranked(effort.steps(), strokes)
	slices.SortStableFunc(order, func(a, b int) int {
		return last(keeps(strokes[a].Operation), keeps(strokes[b].Operation))
	})
	left, gone := w.run(order)
	sharing := Sharing{Count: gone.count, MM: gone.saved.mm(), Places: sortedPlaces(effort.steps(), gone.places)}
	if gone.saved > 0 {
		sharing.Times = float64(gone.taken / gone.saved)
	}
	return left, sharing
}
