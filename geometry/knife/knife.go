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

// Blade is a blade in its holder. The zero Blade does not trail: a pen, a blunt
// tip, or a knife whose machine makes up for the rest itself.
type Blade struct {
	OffsetMM  float64 `json:"offset_mm"`  // how far the tip trails the axis
	OvercutMM float64 `json:"overcut_mm"` // how far a closed line is cut past its closure
	// LiftBelowDeg is the angle between two lines below which the blade is lifted and
	// turned over their corner, by a machine that turns a lifted blade: a drag knife
	// turns only while it is dragged in the material. 0: at no corner.
	LiftBelowDeg float64 `json:"lift_below_deg,omitempty"`
}

// Follow tells the way of the holder's axis for a knife whose tip is to cut
// line: tip + d·tangent, with d the blade's offset. Straight lines stay straight
// and arcs stay arcs; a Bézier curve is followed within half of
// geometry.DefaultChord. At a corner the axis runs an arc of radius d about the
// tip, which stands still while the blade turns; a turn that changes the tip by
// less than 0.005 mm, counted with those left out before, is not made. A closed line is followed
// rounds times without a lift, and past its closure by the blade's overcut. At corners
// below LiftBelowDeg the blade is lifted, turned and let down again.
// Without an offset the axis runs along the line itself, whose curves stay.
//
// The blade points along heading when it is lowered, as the stroke before has
// left it: an arc about the start turns it first. The zero heading stands for a
// blade that is turned already.
//
// It returns where the axis is at first, and the heading at the end, which is
// the one before where the blade does not trail.
func (k Blade) Follow(b *budget.Budget, line geometry.Path, heading geometry.Point, rounds int, emit func(Piece)) (start, last geometry.Point) {
	if line.Empty() {
		return line.Start, heading
	}
	f := follower{b: b, d: k.OffsetMM, lift: k.liftTurn(), tip: line.Start, vertex: line.Start, heading: heading.Unit(), emit: emit}
	if f.heading == (geometry.Point{}) {
		f.heading = startHeading(line)
	}
	start = f.centre()
	if !line.Closed {
		rounds = 1
	}
	for round := range max(1, rounds) {
		f.now.Round = round
		f.run(line.Segments, line.Closed)
	}
	if line.Closed && k.OvercutMM > 0 {
		f.now.Past = true
		f.run(leading(b, line, k.OvercutMM), false)
	}
	if k.OffsetMM <= 0 {
		return start, heading
	}
	return start, f.heading
}

// run follows the segments one after the other; with round the first comes after
// the last again.
func (f *follower) run(segs []geometry.Segment, round bool) {
	for i, s := range segs {
		next := s
		if i+1 < len(segs) {
			next = segs[i+1]
		} else if round {
			next = segs[0]
		}
		f.now.Segment = i
		f.corner(s)
		f.follow(s, next)
	}
}

// Start returns where the axis stands when the blade is lowered on the start of
// a line, as by Follow.
func (k Blade) Start(line geometry.Path, heading geometry.Point) geometry.Point {
	if k.OffsetMM <= 0 || line.Empty() {
		return line.Start
	}
	if heading == (geometry.Point{}) {
		heading = startHeading(line)
	}
	return line.Start.Add(heading.Unit().Mul(k.OffsetMM))
}
