package view_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// cutPass is a pass as the plan means it or a file has it.
type cutPass struct {
	name   string
	speed  float64
	colour string
	lines  []geometry.Path
	arcs   int // of plotter files
}

// planOfLoad works the passes of a load out from placements and strokes, by the
// numbers in the runs alone.
func planOfLoad(t *testing.T, p *planned, load int) []cutPass {
	t.Helper()
	sheet := p.Layout.Loads[load]
	var all []cutPass
	for i, pass := range p.Passes.Loads[load].Passes {
		one := cutPass{name: fmt.Sprintf("%02d_%s", i+1, pass.Operation), speed: pass.Setting.SpeedMMS}
		found := 0
		for _, r := range pass.Runs {
			stroke := p.MapOn(load + 1).Strokes[r.Stroke]
			for _, at := range sheet.Placements {
				if at.Copy == r.Copy && stroke.Operation == pass.Operation {
					found++
					one.lines = append(one.lines, asRun(startingAt(pastEnds(stroke.Path.Transform(at.Transform), r), r.At), pass.Setting)...)
				}
			}
		}
		if found != len(pass.Runs) {
			t.Fatalf("load %d, %s: of %d runs %d lie on the load", load+1, one.name, len(pass.Runs), found)
		}
		all = append(all, one)
	}
	return all
}

// asRun returns what the tool does along a line, from lowering to lifting: a
// closed line round after round, an open one again from its start, a perforation
// dash by dash from its start, each again before the next.
func asRun(line geometry.Path, set workshop.Setting) []geometry.Path {
	var all []geometry.Path
	for _, cut := range dashed(line, set) {
		for round := 1; round < set.Passes; round++ {
			if cut.Closed {
				cut.Segments = append(cut.Segments[:len(cut.Segments):len(cut.Segments)], line.Segments...)
			} else {
				all = append(all, cut)
			}
		}
		all = append(all, cut)
	}
	return all
}

// dashed cuts a line that is perforated into dashes, on chords of 0.1 µm.
func dashed(line geometry.Path, set workshop.Setting) []geometry.Path {
	if set.Operation != artwork.Perforate || set.DashMM == 0 {
		return []geometry.Path{line}
	}
	var all []geometry.Path
	cutting, left := false, 0.0
	at := line.Start
	for _, q := range line.Flatten(1e-4)[1:] {
		for at != q {
			if left <= 1e-9 {
				cutting = !cutting
				left = map[bool]float64{true: set.DashMM, false: set.TieMM}[cutting]
				if cutting {
					all = append(all, geometry.Path{Start: at})
				}
			}
			step, to := at.Dist(q), q
			if step > left {
				step, to = left, at.Lerp(q, left/step)
			}
			if cutting {
				last := &all[len(all)-1]
				last.Segments = append(last.Segments, geometry.LineTo(to))
			}
			left, at = left-step, to
		}
	}
	return all
}

// pastEnds is an open path that is cut past its ends as far as a run says, straight on.
func pastEnds(p geometry.Path, r passes.Run) geometry.Path {
	if r.BeforeMM == 0 && r.AfterMM == 0 {
		return p
	}
	pts := p.Flatten(1e-5)
	n := len(pts)
	first := pts[0].Add(pts[0].Sub(pts[1]).Unit().Mul(r.BeforeMM))
	last := pts[n-1].Add(pts[n-1].Sub(pts[n-2]).Unit().Mul(r.AfterMM))
	return geometry.Polyline(append(append([]geometry.Point{first}, pts...), last)...)
}

// startingAt returns a path run from at: backwards where it ends there, and a
// closed one from the corner that lies there, or else from there on by chords.
func startingAt(p geometry.Path, at geometry.Point) geometry.Path {
	const same = 1e-6
	switch {
	case p.Start.Dist(at) < same:
		return p
	case !p.Closed && p.End().Dist(at) < same:
		return p.Reversed()
	case !p.Closed:
		return geometry.Path{}
	}
	for i, s := range p.Segments[:len(p.Segments)-1] {
		if s.End.Dist(at) < same {
			turned := append(append([]geometry.Segment{}, p.Segments[i+1:]...), p.Segments[:i+1]...)
			return geometry.Path{Start: s.End, Closed: true, Segments: turned}
		}
	}
	pts := p.Flatten(1e-5)
	for i, q := range pts[1:] {
		if pts[i].Dist(at)+at.Dist(q)-pts[i].Dist(q) < same {
			around := append(append([]geometry.Point{at}, pts[i+1:]...), pts[1:i+1]...)
			line := geometry.Polyline(append(around, at)...)
			line.Closed = true
			return line
		}
	}
	return geometry.Path{}
}

// Every stroke of every copy is run once, in the passes of the trade.
func TestPlanRunsEveryStrokeOnce(t *testing.T) {
	for _, b := range benches() {
		p := b.plan(t)
		ran, copies := map[[2]int]int{}, 0
		for i, load := range p.Passes.Loads {
			copies += len(p.Layout.Loads[i].Placements)
			if len(load.Passes) != len(b.passes) {
				t.Fatalf("%s, load %d: %d passes", b.name, i+1, len(load.Passes))
			}
			for k, pass := range load.Passes {
				if pass.Operation != b.passes[k] || pass.Number != k+1 {
					t.Errorf("%s, load %d: pass %d is %d, %s", b.name, i+1, k+1, pass.Number, pass.Operation)
				}
				for _, r := range pass.Runs {
					ran[[2]int{r.Copy, r.Stroke}]++
				}
			}
		}
		if copies != b.choices.Copies || len(ran) != copies*len(p.Weeding.Strokes) {
			t.Errorf("%s: %d copies of %d strokes make %d runs", b.name, copies, len(p.Weeding.Strokes), len(ran))
		}
		for what, n := range ran {
			if n != 1 {
				t.Errorf("%s: copy %d, stroke %d runs %d times", b.name, what[0], what[1], n)
			}
		}
	}
}

// What a person loads into the cutter is the plan: every file of every load has
// its passes by name or pen, in order, and each pass its strokes, in order, from
// their starts, the way they are run, at true size.
func TestFilesToCutFromAreThePlan(t *testing.T) {
	for _, b := range benches() {
		t.Run(b.name, func(t *testing.T) {
			p := b.plan(t)
			for load := range p.Passes.Loads {
				want := planOfLoad(t, p, load)
				for _, r := range readers() {
					var file bytes.Buffer
					if err := p.WriteLoad(t.Context(), &file, load+1, view.AllPasses, r.format); err != nil {
						t.Fatal(err)
					}
					where := fmt.Sprintf("load %d, %s", load+1, r.name)
					checkPasses(t, where, r, want, r.read(t, file.Bytes()))
				}
			}
		})
	}
}

func checkPasses(t *testing.T, where string, r reader, want, got []cutPass) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d passes, the plan has %d", where, len(got), len(want))
	}
	colours := map[string]bool{}
	for i, w := range want {
		g := got[i]
		if r.format == view.Plt {
			// A pen a pass, from 1; VS counts whole cm/s and is never faster than tested.
			w.name, w.speed = fmt.Sprint(i+1), math.Floor(w.speed/10)*10
		} else {
			w.speed = 0
			colours[g.colour] = true
		}
		if g.name != w.name || g.speed != w.speed {
			t.Errorf("%s: pass %d is %q at %g mm/s, want %q at %g", where, i+1, g.name, g.speed, w.name, w.speed)
		}
		if len(g.lines) != len(w.lines) {
			t.Errorf("%s, %s: %d strokes, the plan has %d", where, w.name, len(g.lines), len(w.lines))
			continue
		}
		for k := range w.lines {
			if d := apart(w.lines[k], g.lines[k]); !(d <= r.within) {
				t.Errorf("%s, %s: stroke %d strays by %g mm", where, w.name, k+1, d)
			}
		}
	}
	if r.format != view.Plt && len(colours) != len(want) {
		t.Errorf("%s: %d colours for %d passes", where, len(colours), len(want))
	}
}

// apart is how far two lines lie apart at equal shares of their lengths, in
// mm; it sees another start, way or place.
func apart(a, b geometry.Path) float64 {
	const shares = 24
	p, q := along(a, shares), along(b, shares)
	if len(p) != len(q) {
		return math.Inf(1)
	}
	worst := 0.0
	for i := range p {
		worst = math.Max(worst, p[i].Dist(q[i]))
	}
	return worst
}

// along returns n+1 points at equal shares of a line's length, none of a line
// that has none.
func along(p geometry.Path, n int) []geometry.Point {
	pts := p.Flatten(1e-4)
	total := 0.0
	for i := range pts[1:] {
		total += pts[i].Dist(pts[i+1])
	}
	if total == 0 {
		return nil
	}
	out := []geometry.Point{pts[0]}
	gone, i := 0.0, 0
	for k := 1; k < n; k++ {
		at := total * float64(k) / float64(n)
		for i < len(pts)-2 && gone+pts[i].Dist(pts[i+1]) < at {
			gone += pts[i].Dist(pts[i+1])
			i++
		}
		out = append(out, pts[i].Lerp(pts[i+1], (at-gone)/pts[i].Dist(pts[i+1])))
	}
	return append(out, pts[len(pts)-1])
}

// A load that is not there, or a format, has no file.
func TestNoFileWithoutALoad(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	for _, tt := range []struct {
		load   int
		format view.Format
	}{{0, view.DXF}, {2, view.SVG}, {1, "none"}} {
		var file bytes.Buffer
		if err := p.WriteLoad(t.Context(), &file, tt.load, view.AllPasses, tt.format); err == nil || file.Len() > 0 {
			t.Errorf("load %d as %q: %v, %d bytes", tt.load, tt.format, err, file.Len())
		}
	}
	p.Passes, p.Weeding = nil, &weeding.Map{}
	if err := p.WriteLoad(t.Context(), &bytes.Buffer{}, 1, view.AllPasses, view.DXF); err == nil {
		t.Error("a plan without passes has a file")
	}
}
