package mend_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// A square of 30 mm that loses 10 mm of a side, in its middle or from a corner on, to a longer
// outline that runs there too, is one open line of 110 mm from end to end of the gap, wherever
// its outline is begun, whichever way it is drawn, and whether ends that meet are joined
// afterwards or not.
func TestAnOutlineBeginsAnywhereInWhatIsLeft(t *testing.T) {
	corners := []geometry.Point{{X: 0, Y: -10}, {X: 30, Y: -10}, {X: 30, Y: 20}, {X: 0, Y: 20}}
	for at, far := range map[float64]float64{30: 160, 0: -100} { // where the two meet, and how far the long one goes on
		for turn := range 12 {
			low, turn := float64(turn/4-1)*10, turn%4
			long := geometry.BoxAround(geometry.Pt(at, low), geometry.Pt(far, low+10))
			for _, back := range []bool{false, true} {
				square := geometry.Polygon(append(slices.Clone(corners[turn:]), corners[:turn]...)...)
				if back {
					square = square.Reversed()
				}
				for _, off := range [][]string{nil, {mend.MendJoins}} {
					strokes := []artwork.Stroke{stroke(long.Path()), stroke(square)}
					strokes[1].Shape = 1
					r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits(), Off: off})
					name := fmt.Sprintf("beside %v, begun at %v, back %v, off %v", long, square.Start, back, off)
					if len(r.Strokes) != 2 || math.Abs(r.SavedMM-10) > 1e-9 {
						t.Errorf("%s: %d lines, %g mm saved: %q", name, len(r.Strokes), r.SavedMM, paths(r.Strokes))
						continue
					}
					rest := r.Strokes[slices.IndexFunc(r.Strokes, func(s artwork.Stroke) bool { return s.Shape == 1 })].Path
					ends := []geometry.Point{rest.Start, rest.End()}
					slices.SortFunc(ends, func(p, q geometry.Point) int { return int(p.Y - q.Y) })
					if rest.Closed || math.Abs(rest.Length()-110) > 1e-9 || ends[0].Dist(geometry.Pt(at, low)) > 1e-9 || ends[1].Dist(geometry.Pt(at, low+10)) > 1e-9 {
						t.Errorf("%s: what is left is %s", name, rest)
					}
				}
			}
		}
	}
}

// What is left of an outline after it is cut twice in one side is as many lines, from gap to
// gap. By hand: a square of 40 mm beside two outlines that are longer than it and have
// 10 mm of its right side each, from 5 to 15 and from 25 to 35 mm.
func TestAnOutlineWithTwoGaps(t *testing.T) {
	corners := []geometry.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 40}, {X: 0, Y: 40}}
	for turn := range 4 {
		strokes := []artwork.Stroke{
			stroke(geometry.BoxAround(geometry.Pt(40, 5), geometry.Pt(140, 15)).Path()), stroke(geometry.BoxAround(geometry.Pt(40, 25), geometry.Pt(140, 35)).Path()),
			stroke(geometry.Polygon(append(slices.Clone(corners[turn:]), corners[:turn]...)...)),
		}
		for i := range strokes {
			strokes[i].Shape = i
		}
		r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits()})
		var long []float64
		for _, s := range r.Strokes {
			if s.Shape == 2 {
				long = append(long, math.Round(1e6*s.Path.Length())/1e6)
			}
		}
		slices.Sort(long)
		if !slices.Equal(long, []float64{10, 130}) {
			t.Errorf("begun at %v what is left is %v mm long: %q", strokes[2].Path.Start, long, paths(r.Strokes))
		}
	}
}
