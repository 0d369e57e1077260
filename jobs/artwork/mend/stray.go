package mend

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/stray"
)

// stray takes out what is no line: segments that end where they begin, and paths
// that are points, which it returns beside the lines where they are to stay.
func (t *tally) stray(strokes []artwork.Stroke) (out, single []artwork.Stroke) {
	out = make([]artwork.Stroke, 0, len(strokes))
	for _, s := range strokes {
		path, points := withoutPoints(t.effort.steps(), s.Path)
		if !path.Empty() && stray.Point(path.BoundsIn(t.effort.steps())) {
			path, points = geometry.Path{Start: path.Start}, append(points, path.Start)
		}
		t.strays += len(points)
		for _, p := range points {
			t.strayAt = append(t.strayAt, placeOf(&s, geometry.BoxAround(p)))
		}
		switch {
		case !path.Empty() && t.on(MendStray):
			s.Path = path
			out = append(out, s)
		case !path.Empty():
			out = append(out, s)
		case !t.on(MendStray) && len(s.Path.Segments) > 0:
			single = append(single, s)
		}
	}
	t.strayAt = sortedPlaces(t.effort.steps(), t.strayAt)
	return out, single
}

// withLength drops the segments of no length that a mend leaves where it moves
// an end on to a vertex.
func withLength(b *budget.Budget, strokes []artwork.Stroke) []artwork.Stroke {
	out := make([]artwork.Stroke, 0, len(strokes))
	for _, s := range strokes {
		if s.Path, _ = withoutPoints(b, s.Path); !s.Path.Empty() {
			out = append(out, s)
		}
	}
	return out
}

// withoutPoints returns p without its segments of no length, and where these
// were.
func withoutPoints(b *budget.Budget, p geometry.Path) (geometry.Path, []geometry.Point) {
	if p.Empty() {
		return p, []geometry.Point{p.Start}
	}
	b.Spend(len(p.Segments))
	from := p.Start
	var points []geometry.Point
	var kept []geometry.Segment // of a path that has points
	for i, s := range p.Segments {
		q := piece{from, s}
		from = s.End
		switch point := q.from == s.End && (s.Kind != geometry.Cubic || q.length() == 0); {
		case point && points == nil:
			kept = append(make([]geometry.Segment, 0, len(p.Segments)-1), p.Segments[:i]...)
			points = append(points, from)
		case point:
			points = append(points, from)
		case points != nil:
			kept = append(kept, s)
		}
	}
	if points != nil {
		p.Segments = kept
	}
	return p, points
}
