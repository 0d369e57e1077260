// Package knife finds the way of the holder of a drag knife, whose tip trails
// the axis that the machine moves.
//
// Lengths are in mm, angles in radians anticlockwise. Headings are unit vectors
// from the tip to the axis.
package knife

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Blade is a blade in its holder.
type Blade struct {
	OffsetMM  float64 // how far the tip trails the axis
	OvercutMM float64 // how far a closed line is cut past its closure
}

// Axis returns the path of the holder's axis for a knife whose tip is to cut
// path: tip + d·tangent, with d the blade's offset. Straight lines stay
// straight and arcs stay arcs; a Bézier curve is followed within half of
// geometry.DefaultChord. At a corner the axis runs an arc of radius d about the
// tip, which stands still while the blade turns. A closed path is followed
// rounds times without a lift, and past its closure by the blade's overcut.
//
// The blade points along heading when it is lowered, as the stroke before has
// left it: an arc about the start, the lead-in, turns it first. The zero
// heading stands for a blade that is turned already.
func (k Blade) Axis(b *budget.Budget, path geometry.Path, heading geometry.Point, rounds int) geometry.Path {
	path = k.CutLine(b, path, rounds)
	if k.OffsetMM <= 0 || path.Empty() {
		return path
	}
	f := follower{b: b, d: k.OffsetMM, tip: path.Start, heading: heading.Unit()}
	if f.heading == (geometry.Point{}) {
		f.heading = startHeading(path)
	}
	f.axis.Start = f.centre()
	for _, s := range path.Segments {
		f.follow(s)
	}
	return f.axis
}

// CutLine returns the line that the tip cuts: a closed path rounds times, past
// its closure by the overcut; an open path as it is.
func (k Blade) CutLine(b *budget.Budget, path geometry.Path, rounds int) geometry.Path {
	if !path.Closed || path.Empty() {
		return path
	}
	line := geometry.Path{Start: path.Start}
	for range max(1, rounds) {
		b.Spend(len(path.Segments))
		line.Segments = append(line.Segments, path.Segments...)
	}
	line.Segments = append(line.Segments, leading(b, path, k.OvercutMM)...)
	return line
}
