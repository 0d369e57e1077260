package knife_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
)

// Round against drag, which pulls in tiny steps along the blade: both ways round,
// from headings to all sides.
func TestRoundIsWherePullingLeads(t *testing.T) {
	for _, d := range []float64{0.25, 0.9, 4} {
		for _, bulge := range []float64{-0.8, -0.1, 0, 0.02, 0.5, 5} {
			for _, deg := range []float64{-170, -60, 0, 3, 100} {
				axis := geometry.Path{Segments: []geometry.Segment{geometry.ArcTo(bulge, geometry.Pt(2.5, 1))}}
				sin, cos := math.Sincos(deg * math.Pi / 180)
				p := knife.Pulled{OffsetMM: d, Heading: geometry.Pt(cos, sin)}
				trail := drag(axis, p.Tip(), d)
				p.Round(axis.Segments[0])
				near(t, fmt.Sprintf("offset %g, bulge %g, %g°", d, bulge, deg), p.Tip().Dist(trail[len(trail)-1]), 0, 4e-4)
			}
		}
	}
}

// Joints that are a hair off are no stop, whatever meets there: the axis runs
// through, and the cut stays true. The same joints at an angle turn the blade.
func TestHairsAreNoTurns(t *testing.T) {
	for _, c := range []struct {
		data  string
		turns int
	}{
		{"M0 0L10 0A5 5 0 0 1 15.003 5.01L15 12", 0},             // a line, an arc, a line
		{"M0 0A10 10 0 0 1 10 10.01A10.004 10 0 0 1 0.01 20", 0}, // two arcs
		{"M0 0C5 0 10 4 10.01 10L10 15", 0},                      // a curve, a line
		{"M0 0L10 0C12 0.008 16 2 16 6A8 8 0 0 0 24.01 14", 0},   // a line, a curve, an arc
		{"M0 0L10 0A5 5 0 0 0 20 0L20 5", 2},                     // corners on both sides of an arc
		{"M0 0L10 0C12 2 16 3 16 6A8 8 0 0 1 8 14", 1},           // a corner before a curve
	} {
		line, turns := path(t, c.data), 0
		for _, d := range []float64{0.25, 0.5} {
			k := knife.Blade{OffsetMM: d}
			turns = 0
			k.Follow(nil, line, geometry.Point{}, 1, func(p knife.Piece) {
				if p.Turns {
					turns++
				}
			})
			if turns < c.turns || c.turns == 0 && turns > 0 {
				t.Errorf("%s, offset %g: %d turns, want %d", c.data, d, turns, c.turns)
			}
			if got := straying(drag(axisOf(nil, k, line, geometry.Point{}, 1), line.Start, d), line); got > 0.0052 {
				t.Errorf("%s, offset %g: the cut strays by %.4f mm", c.data, d, got)
			}
		}
	}
}

// Where a glide has left the tip beside a curve, steps that are shorter than that bring it
// back, on either side: of curves of a few hundredths of a mm about a corner, as icons
// have them, either line comes within 0.0055 mm of the other (0.005 of a turn that is left
// out, and a chord).
func TestTinyCurvesBringTheTipBack(t *testing.T) {
	const data = "M13.758 17.358C13.224 17.389 12.714 17.143 12.395 16.713C12.371 16.664 12.346 16.621 12.321 16.572C12.315 16.572 12.309 16.578 12.303 16.578C12.131 16.149 11.652 15.915 11.204 16.056"
	for _, d := range []float64{0.25, 0.5, 0.9} {
		for _, line := range []geometry.Path{path(t, data), path(t, data).Reversed()} {
			trail := geometry.Polyline(drag(axisOf(nil, knife.Blade{OffsetMM: d}, line, geometry.Point{}, 1), line.Start, d)...)
			for _, off := range []float64{straying(trail.Flatten(1e-4), line), straying(line.Flatten(1e-4), trail)} {
				if off > 0.0055 {
					t.Errorf("offset %g: %.4f mm apart", d, off)
				}
			}
		}
	}
}

// A tip that rides along an arc about its centre keeps its distance from it, and is shown
// half-way and at the end; one that heads a little aside is shown until it has settled, and
// comes to that distance. Either is where tiny pulls lead.
func TestTipsRideAlongArcs(t *testing.T) {
	const d = 0.5
	for _, sense := range []float64{1, -1} {
		for _, radius := range []float64{0, 0.3, 2, 40} {
			for _, aside := range []float64{0, 0.02} {
				axis := math.Hypot(radius, d)
				start, arcs := geometry.CircleArc(geometry.Point{}, axis, 0.7, sense*2)
				sin, cos := math.Sincos(math.Atan2(start.Y, start.X) + sense*math.Atan2(radius, d) + aside)
				p := knife.Pulled{OffsetMM: d, Axis: start, Heading: geometry.Pt(cos, sin)}
				trail := drag(geometry.Path{Start: start, Segments: arcs}, p.Tip(), d)
				looks, worst := 0, 0.0
				p.Along(nil, arcs[0], func(tip geometry.Point) bool {
					looks++
					worst = math.Max(worst, math.Abs(tip.Norm()-radius))
					return true
				})
				what := fmt.Sprintf("radius %g, sense %g, %g aside", radius, sense, aside)
				near(t, what, p.Tip().Dist(trail[len(trail)-1]), 0, 4e-4)
				if aside == 0 && (looks != 2 || worst > 1e-9) || aside > 0 && looks < 3 {
					t.Errorf("%s: %d looks, the tip %g mm off its circle", what, looks, worst)
				}
			}
		}
	}
}
