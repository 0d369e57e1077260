package layout

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// MapOf returns the weeding map of what lies on a load: its own, or that of the piece.
func (l *Layout) MapOf(load *Load, piece *weeding.Map) *weeding.Map {
	if load.Map < 1 || load.Map > len(l.Maps) {
		return piece
	}
	return l.Maps[load.Map-1]
}

// StrokesOf returns the strokes of what lies on a load: those of its own map, or of the
// piece.
func (l *Layout) StrokesOf(load *Load, piece []artwork.Stroke) []artwork.Stroke {
	return l.MapOf(load, &weeding.Map{Strokes: piece}).Strokes
}

// Shared reports whether several drawings share the loads.
func (l *Layout) Shared() bool { return len(l.Maps) > 0 && l.Panels == nil }

// Canonical brings all paths into the form in which they read back from text.
func (l *Layout) Canonical() {
	for _, m := range l.Maps {
		m.Canonical()
	}
}
