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

// Dashes splits a path into cuts of dash mm with tie mm left whole between
// them: a perforation. Without a dash it is one cut.
func Dashes(path geometry.Path, dash, tie float64) []geometry.Path {
	if dash <= 0 || path.Empty() {
		return []geometry.Path{path}
	}
	var cuts []geometry.Path
	rest := geometry.Path{Start: path.Start, Segments: path.Segments}
	for left := rest.Length(); left > 0; left -= dash + tie {
		var cut geometry.Path
		cut, rest = splitAt(rest, dash)
		cuts = append(cuts, cut)
		_, rest = splitAt(rest, tie)
		if rest.Empty() {
			break
		}
	}
	return cuts
}

// splitAt parts an open path after length mm.
func splitAt(path geometry.Path, length float64) (first, rest geometry.Path) {
	first = geometry.Path{Start: path.Start, Segments: leading(path, length)}
	n := len(first.Segments)
	if n == 0 {
		return first, path
	}
	rest = geometry.Path{Start: first.End()}
	whole := path.Segments[n-1]
	from := path.Start
	if n > 1 {
		from = path.Segments[n-2].End
	}
	if first.End() != whole.End {
		// The rest of a segment is the first part of it run backwards.
		back := geometry.Path{Start: from, Segments: []geometry.Segment{whole}}.Reversed()
		left := whole.Length(from) - first.Segments[n-1].Length(from)
		tail := geometry.Path{Start: back.Start, Segments: leading(back, left)}.Reversed()
		tail.Start = rest.Start
		rest.Segments = append(rest.Segments, tail.Segments...)
	}
	rest.Segments = append(rest.Segments, path.Segments[n:]...)
	return first, rest
}
