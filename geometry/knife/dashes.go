package knife

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Dashes splits a path into cuts of dash mm with tie mm left whole between
// them: a perforation. Without a dash it is one cut.
func Dashes(b *budget.Budget, path geometry.Path, dash, tie float64) []geometry.Path {
	if dash <= 0 || path.Empty() {
		return []geometry.Path{path}
	}
	var cuts []geometry.Path
	rest := geometry.Path{Start: path.Start, Segments: path.Segments}
	for left := rest.Length(); left > 0; left -= dash + tie {
		b.Spend(len(rest.Segments)) // they are copied
		var cut geometry.Path
		cut, rest = splitAt(b, rest, dash)
		cuts = append(cuts, cut)
		_, rest = splitAt(b, rest, tie)
		if rest.Empty() {
			break
		}
	}
	return cuts
}

// splitAt parts an open path after length mm.
func splitAt(b *budget.Budget, path geometry.Path, length float64) (first, rest geometry.Path) {
	first = geometry.Path{Start: path.Start, Segments: leading(b, path, length)}
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
		tail := geometry.Path{Start: back.Start, Segments: leading(b, back, left)}.Reversed()
		tail.Start = rest.Start
		rest.Segments = append(rest.Segments, tail.Segments...)
	}
	rest.Segments = append(rest.Segments, path.Segments[n:]...)
	return first, rest
}
