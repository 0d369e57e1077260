package mend

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// The amounts above which lines are not worked out. Cut lines that cross make
// about as many cells as they have crossings, each of which somebody weeds or
// picks up: 200,000 are beyond any bench, and take at most ten seconds and
// 700 MB to map (measured). A million chords are as many segments as the reader
// that lets most of them through does, that of DXF.
//
// The edge of a wide line is found by sweeping each chord sideways: two million
// pairs that then overlap take about four seconds (measured).
const (
	mostChords    = 1_000_000
	mostCrossings = 200_000
	mostSwept     = 2_000_000
)

// Crowd is what there is too much of, and where most of it is.
type Crowd struct {
	What    string // a plural noun
	Allowed int
	At      geometry.Box
}

// TooLong reports strokes that make more than mostChords straight pieces once
// their curves are flattened; nil where they do not.
func TooLong(b *budget.Budget, strokes []artwork.Stroke) *Crowd {
	all, most := 0, 0
	at := geometry.EmptyBox()
	var pts []geometry.Point
	for i := range strokes {
		n := 0
		for _, p := range pieces(strokes[i].Path) {
			pts = p.flatten(pts[:0])
			b.Spend(1 + len(pts)/8)
			if n += len(pts) - 1; all+n > mostChords {
				break
			}
		}
		if all += n; n > most {
			most, at = n, strokes[i].Path.Bounds()
		}
		if all > mostChords {
			return &Crowd{"straight pieces", mostChords, at}
		}
	}
	return nil
}

// TooCrossed reports cut strokes that cross each other and themselves more
// than mostCrossings times; nil where they do not. Ends that meet, and lines
// that lie on each other, do not cross.
//
// It costs O(n log n) for n chords and what is looked at of effort.
func TooCrossed(effort *Effort, strokes []artwork.Stroke) *Crowd {
	lines := cutChords(effort.steps(), strokes)
	boxes := make([]geometry.Box, len(lines))
	for i, l := range lines {
		boxes[i] = geometry.BoxAround(l[0], l[1])
	}
	crossed := func(i, k int) bool { return cross(lines[i], lines[k]) }
	return tooMany(effort, "crossings of cut lines", mostCrossings, boxes, crossed)
}

// TooSwept reports cut strokes of which more than mostSwept pairs of chords
// come within the reach of each other that each stroke has; nil where they do
// not.
func TooSwept(effort *Effort, strokes []artwork.Stroke, reach func(*artwork.Stroke) float64) *Crowd {
	var boxes []geometry.Box
	for i := range strokes {
		for _, l := range cutChords(effort.steps(), strokes[i:i+1]) {
			boxes = append(boxes, geometry.BoxAround(l[0], l[1]).Grow(reach(&strokes[i])))
		}
	}
	each := func(int, int) bool { return true }
	return tooMany(effort, "pieces of line within the width of a line", mostSwept, boxes, each)
}

// tooMany reports pairs of boxes that overlap and that count, above a limit.
func tooMany(effort *Effort, what string, allowed int, boxes []geometry.Box, counts func(i, k int) bool) *Crowd {
	before := near.NewPart(effort.steps(), near.NewTree(effort.steps(), boxes))
	all, of := 0, make([]int, len(boxes)) // pairs, and how many each box is in
	for i := range boxes {
		effort.each(before, boxes[i], func(k int) bool {
			if counts(i, k) {
				all++
				of[i]++
				of[k]++
			}
			return all <= allowed
		})
		before.Set(i, true)
		if all > allowed {
			return &Crowd{what, allowed, boxes[slices.Index(of, slices.Max(of))]}
		}
	}
	return nil
}

// cutChords returns the chords of the strokes that cut.
func cutChords(b *budget.Budget, strokes []artwork.Stroke) [][2]geometry.Point {
	var lines [][2]geometry.Point
	for i := range strokes {
		if !strokes[i].Operation.Cuts() {
			continue
		}
		pts := strokes[i].Path.FlattenIn(b, flatMM)
		for k := 1; k < len(pts); k++ {
			lines = append(lines, [2]geometry.Point{pts[k-1], pts[k]})
		}
	}
	return lines
}

// cross reports whether the ends of each line lie on both sides of the other.
func cross(a, b [2]geometry.Point) bool {
	u, v := a[1].Sub(a[0]), b[1].Sub(b[0])
	return u.Cross(b[0].Sub(a[0]))*u.Cross(b[1].Sub(a[0])) < 0 && v.Cross(a[0].Sub(b[0]))*v.Cross(a[1].Sub(b[0])) < 0
}
