package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/jobs/artwork"
)

// Where a contour may be begun (common practice, no source).
const (
	cornerDeg  = 20   // a vertex at which a line turns by less is smooth
	mostStarts = 32   // starts of a contour that are weighed
	tinyMM     = 0.05 // a piece of a line that is shorter is none to begin at
	clearOfMM  = 1    // starts on an edge keep this, some overcuts, off its corners where it is long enough
)

// start is a place at which a closed stroke may be begun.
type start struct {
	segment int
	along   float64        // share of the segment that is left for the end
	at      geometry.Point // as drawn

	first     geometry.Point // heading in which it sets out
	end, last geometry.Point // where it ends after the overcut, and its heading there
}

// startsOf returns where each closed stroke of an operation may be begun.
//
// Film lifts where a blade is let down in a corner, or where little holds it. So a kiss
// cut begins at a smooth vertex away from thin necks, or on an edge where a contour has
// corners only. Card is begun at a corner that juts into waste, where overcut and the
// mark of the blade do no harm; a contour without one like a film. A corner that juts
// into what is kept is never a start. Lines that part nothing begin at any vertex.
func startsOf(b *budget.Budget, strokes []artwork.Stroke, op artwork.Operation, depth []int) [][]start {
	all := make([][]start, len(strokes))
	var necks *narrows
	if op == artwork.KissCut {
		necks = newNarrows(b, strokes)
	}
	for i := range strokes {
		path := &strokes[i].Path
		if !path.Closed {
			continue
		}
		b.Spend(1 + len(path.Segments))
		switch {
		case op == artwork.KissCut:
			all[i] = necks.clear(b, i, smooth(path))
		case op == artwork.ThroughCut:
			if all[i] = jutting(path, depth[i]%2 == 1); all[i] == nil {
				all[i] = smooth(path)
			}
		default:
			all[i] = vertices(path, func(float64) bool { return true })
		}
		if all[i] = thinned(all[i]); all[i] == nil {
			all[i] = []start{{at: path.Start}} // it goes nowhere
		}
	}
	return all
}

// vertices returns the vertices of a closed path at which its turn, in degrees to the
// left, is such as is asked for. Tiny pieces have no say in where the path heads.
func vertices(path *geometry.Path, good func(turn float64) bool) []start {
	tiny := math.Min(tinyMM, path.Bounds().Width()/50+path.Bounds().Height()/50)
	var all []start
	last := geometry.Point{} // heading at the end of the segment before
	for round := range 2 {   // the first one finds how the path comes in
		from := path.Start
		for i, s := range path.Segments {
			if first, end := knife.Headings(from, s); first != (geometry.Point{}) && s.Length(from) >= tiny {
				if round == 1 && good(math.Atan2(last.Cross(first), last.Dot(first))*180/math.Pi) {
					all = append(all, start{segment: i, at: from})
				}
				last = end
			}
			from = s.End
		}
	}
	return all
}

// smooth returns the smooth vertices of a path and places on its long edges; on short
// ones where it has neither.
func smooth(path *geometry.Path) []start {
	good := vertices(path, func(turn float64) bool { return math.Abs(turn) < cornerDeg })
	for clear := float64(clearOfMM); len(good) == 0 && clear > 0.01 || clear == clearOfMM; clear /= 2 {
		good = append(good, onEdges(path, clear)...)
	}
	return good
}

// onEdges returns places on the edges of a path that lie clear of their ends, in mm.
func onEdges(path *geometry.Path, clear float64) []start {
	var all []start
	from := path.Start
	for i, s := range path.Segments {
		if length := s.Length(from); length > 2*clear {
			for _, along := range [...]float64{clear / length, 1 - clear/length} {
				first, _ := knife.Split(from, s, along)
				all = append(all, start{segment: i, along: along, at: first.End})
			}
		}
		from = s.End
	}
	return all
}

// jutting returns the corners of a contour at which what is kept juts into waste: it
// lies outside a hole.
func jutting(path *geometry.Path, hole bool) []start {
	outward := math.Copysign(1, path.Area())
	if hole {
		outward = -outward
	}
	return vertices(path, func(turn float64) bool { return turn*outward >= cornerDeg })
}

// thinned returns some of many starts, picked evenly.
func thinned(all []start) []start {
	if len(all) <= mostStarts {
		return all
	}
	some := make([]start, mostStarts)
	for k := range some {
		some[k] = all[k*len(all)/mostStarts]
	}
	return some
}
