package passes

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// Trace returns the line that a run draws on its load, in load coordinates:
// from its start, the way it is run, without overcut and repeats. A run that
// names no stroke or copy has an empty path.
func Trace(run Run, strokes []artwork.Stroke, laid *layout.Layout) geometry.Path {
	at, ok := placement(laid, run.Copy)
	if !ok || run.Stroke < 0 || run.Stroke >= len(strokes) {
		return geometry.Path{}
	}
	return run.line(strokes[run.Stroke].Path).Transform(at.Transform)
}

// line returns path from the run's start, the way it is run.
func (r Run) line(path geometry.Path) geometry.Path {
	switch {
	case r.Reversed:
		return path.Reversed()
	case path.Closed && r.Start > 0 && r.Start < len(path.Segments):
		from := geometry.Path{Start: path.Segments[r.Start-1].End, Closed: true}
		from.Segments = append(from.Segments, path.Segments[r.Start:]...)
		from.Segments = append(from.Segments, path.Segments[:r.Start]...)
		return from
	}
	return path
}

// placement finds a copy; they are numbered through the loads from 1.
func placement(laid *layout.Layout, number int) (layout.Placement, bool) {
	i := number - 1
	for _, load := range laid.Loads {
		if i >= 0 && i < len(load.Placements) {
			return load.Placements[i], true
		}
		i -= len(load.Placements)
	}
	return layout.Placement{}, false
}
