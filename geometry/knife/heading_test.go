package knife_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
)

// Where each line sets out and where it ends, in degrees: by the tangent of a
// line, an arc (a right angle to its radius) and a Bézier curve (to its first
// control point that lies elsewhere). Points that are drawn twice have no
// direction and leave it to what follows.
var headings = []struct {
	data       string
	start, end float64
}{
	{"M0 0L10 0", 0, 0},
	{"M0 0L0 10L-10 10", 90, 180},
	{"M0 0L0 0L3 3", 45, 45},
	{"M0 0L3 3L3 3", 45, 45},
	{"M10 0A10 10 0 0 1 0 10", 90, 180},
	{"M10 0A10 10 0 0 0 0 10", 180, 90},
	{"M10 0A10 10 0 1 1 0 -10", 90, 0},
	{"M0 0C0 5 10 5 10 0", 90, -90},
	{"M0 0C0 0 5 5 10 0", 45, -45},
	{"M0 0L5 0A5 5 0 0 1 10 5", 0, 90},
}

// A blade that is turned already stands on its axis one offset ahead along the
// line, and leaves it one offset ahead of its end.
func TestHeadingsAtBothEnds(t *testing.T) {
	const d = 0.25
	at := func(deg float64) geometry.Point {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return geometry.Pt(cos, sin)
	}
	for _, c := range headings {
		line := path(t, c.data)
		axis := axisOf(nil, knife.Blade{OffsetMM: d}, line, geometry.Point{}, 1)
		nothing := func(knife.Piece) {}
		_, last := knife.Blade{OffsetMM: d}.Follow(nil, line, geometry.Point{}, 1, nothing)
		_, first := knife.Blade{OffsetMM: d}.Follow(nil, line.Reversed(), geometry.Point{}, 1, nothing)
		for _, end := range []struct {
			what      string
			got, want geometry.Point
		}{
			{"axis sets out", axis.Start, line.Start.Add(at(c.start).Mul(d))},
			{"axis ends", axis.End(), line.End().Add(at(c.end).Mul(d))},
			{"heading at the end", last, at(c.end)},
			{"heading at the start", first, at(c.start).Mul(-1)},
			{"where the axis stands", knife.Blade{OffsetMM: d}.Start(line, geometry.Point{}), axis.Start},
		} {
			near(t, fmt.Sprint(c.data, ": ", end.what), end.got.Dist(end.want), 0, 1e-4) // a curve whose control points coincide is looked at beside them
		}
	}
}
