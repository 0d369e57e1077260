package picture_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// headsOf returns which way the heads of arrows in the marks of a picture point, in
// pixels, in their order.
func headsOf(t *testing.T, all []element) []geometry.Point {
	t.Helper()
	var ways []geometry.Point
	for _, e := range all {
		if e.name != "path" || e.zone != "marks" || e.attrs["fill"] == "none" {
			continue
		}
		if q := e.paths(t)[0]; len(q.Segments) == 3 && q.Segments[0].Kind == geometry.Line {
			ways = append(ways, q.Start.Sub(q.Segments[0].End.Lerp(q.Segments[1].End, 0.5)).Unit())
		}
	}
	return ways
}

// Arrows point the way that each stroke is run: along it, back along it, and round a
// closed line from the segment that it starts with. By hand; the page's y runs down.
func TestArrowsPointTheWayStrokesAreRun(t *testing.T) {
	line, square := geometry.Polyline(geometry.Pt(0, 30), geometry.Pt(40, 30)), rect(60, 0, 30, 30)
	m := &weeding.Map{Bounds: rect(0, 0, 90, 30).Bounds(), Strokes: []artwork.Stroke{{Path: line}, {Path: square}}}
	l := &layout.Layout{Loads: []layout.Load{{Number: 1, WidthMM: 120, LengthMM: 60, Placements: []layout.Placement{laid(1, m, geometry.Translate(10, 10))}}}}
	run := func(r passes.Run) passes.Run {
		r.Copy, r.At = 1, passes.Trace(passes.Run{Copy: 1, Stroke: r.Stroke, Start: r.Start, Reversed: r.Reversed}, m.Strokes, l).Start
		return r
	}
	for _, c := range []struct {
		run  passes.Run
		want geometry.Point
	}{
		{passes.Run{}, geometry.Pt(1, 0)},
		{passes.Run{Reversed: true}, geometry.Pt(-1, 0)},
		{passes.Run{Stroke: 1}, geometry.Pt(1, 0)},
		{passes.Run{Stroke: 1, Start: 1}, geometry.Pt(0, -1)},
	} {
		pp := &passes.Plan{Loads: []passes.Load{{Number: 1, Passes: []passes.Pass{{Operation: artwork.ThroughCut, Runs: []passes.Run{run(c.run)}}}}}}
		got := headsOf(t, parse(t, svgOf(t, must(picture.Passes(t.Context(), pp, l, m, 1)))))
		if len(got) != 1 || got[0].Dist(c.want) > 0.01 {
			t.Errorf("%+v: arrows point %v, want %v", c.run, got, c.want)
		}
	}
}

// Each pass has a panel of its own, in order, with the numbers of its first and its last
// stroke however many there are, on a desk and on a phone; the way of the lifted knife
// is not drawn, so that there are no more lines than strokes.
func TestEachPassHasAPanel(t *testing.T) {
	holes := denseMap(6, 6)
	l := rollOf(2, holes)
	pp := runsOf(l, holes)
	for _, width := range []float64{1000, 340} {
		ctx := figure.Onto(t.Context(), figure.Screen(width))
		all := parse(t, svgOf(t, must(picture.Passes(ctx, pp, l, holes, 1))))
		var titles []string
		for _, text := range texts(all, "head") {
			if strings.HasPrefix(text, "Pass ") {
				titles = append(titles, text)
			}
		}
		if want := []string{"Pass 1: pen", "Pass 2: kiss cut"}; !slices.Equal(titles, want) {
			t.Errorf("at %g: panels are titled %q, want %q", width, titles, want)
		}
		got := texts(all, "marks")
		for _, ps := range pp.Loads[0].Passes {
			if last := fmt.Sprint(len(ps.Runs)); !slices.Contains(got, last) {
				t.Errorf("at %g: %s has no number %s among %q", width, ps.Operation, last, got)
			}
		}
		if n := strings.Count(" "+strings.Join(got, " ")+" ", " 1 "); n != len(titles) {
			t.Errorf("at %g: %d panels have a first stroke", width, n)
		}
		lines := 0
		for _, e := range all {
			loadingEdge := e.attrs["stroke-width"] == "6"
			if e.name == "path" && e.zone == "drawing" && e.attrs["fill"] == "none" && !loadingEdge {
				lines += len(e.paths(t))
			}
		}
		if want := len(pp.Loads[0].Passes[0].Runs)*2 + len(pp.Loads[0].Passes[1].Runs); lines != want {
			t.Errorf("at %g: %d lines are drawn, want %d", width, lines, want)
		}
	}
}
