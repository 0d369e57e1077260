package knife

import (
	"math"

	"knifedesk/geometry"
)

// liftTurn returns by how many radians a line turns at least where the blade is
// lifted; endless where it never is.
func (k Blade) liftTurn() float64 {
	if k.LiftBelowDeg <= 0 {
		return math.Inf(1)
	}
	return math.Pi - k.LiftBelowDeg*math.Pi/180
}

// corner lifts the blade before a segment where the line turns sharply, and lets it
// down on the same point in the direction of the segment. The tip is put where it
// belongs by that. A cusp within a Bézier curve is turned in the material.
func (f *follower) corner(s geometry.Segment) {
	if math.IsInf(f.lift, 1) {
		return
	}
	first, last := Headings(f.vertex, s)
	if first == (geometry.Point{}) {
		return
	}
	before := f.last
	f.last = last
	if before == (geometry.Point{}) || math.Abs(math.Atan2(before.Cross(first), before.Dot(first))) <= f.lift+leastTurn {
		return
	}
	f.tip, f.heading = f.vertex, first
	f.now.Lifted = true
	f.tell(geometry.LineTo(f.centre()), geometry.LineTo(f.vertex), true)
	f.now.Lifted = false
}
