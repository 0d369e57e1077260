package view_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view/replay"
)

func (p *planned) replayOf(t *testing.T, load int) *replay.Replay {
	t.Helper()
	r, err := p.Replay(t.Context(), p.request.Machine, load)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The replay takes as long as the machine, pass by pass and in all (the bound of 1 % is
// agreed), its clock never runs back, and its lines are those of the plan, worked out from
// its numbers alone, in their order: no mark lies farther off than the blade trails and
// the replay admits. What a beginner is to see holds: scores before cuts, and of each copy
// what lies inside before what holds it.
func TestReplayIsThePlanInItsTime(t *testing.T) {
	for _, b := range benches() {
		t.Run(b.name, func(t *testing.T) {
			p := b.plan(t)
			p.holdTime(t)
			r := p.replayOf(t, 1)
			if r.EachOf != 1 || r.Runs != len(r.Lines) {
				t.Fatalf("%d of %d lines, one of %d", len(r.Lines), r.Runs, r.EachOf)
			}
			for i, pass := range planOfLoad(t, p, 0) {
				if r.Passes[i].DashMM == 0 { // else its dashes are one line there
					holdLines(t, r, i+1, pass.lines, p.Passes.Loads[0].Passes[i].Rule.OffsetMM+r.WithinMM)
				}
			}
			holdOrder(t, r)
		})
	}
}

// Panels are loads of their own.
func TestReplayOfPanels(t *testing.T) {
	const wide = `<svg xmlns="http://www.w3.org/2000/svg" width="1740mm" height="900mm" viewBox="0 0 1740 900"><g id="CUT" fill="none" stroke="#000"><path d="M0 0H1740V900H0Z"/></g></svg>`
	p := planIn(t, neutral(), wide, plan.Choices{
		Stock: "film-removable-610", Copies: 1, Size: plan.Size{Unit: "mm"},
		Replies: ask.Replies{layout.QuestionPanels: {Answer: layout.AnswerPanels}},
	})
	if p.Passes == nil || len(p.Passes.Loads) != 2 {
		t.Fatalf("not the plan that is meant:\n%s", p.text())
	}
	p.holdTime(t)
}

func (p *planned) holdTime(t *testing.T) {
	t.Helper()
	sum := 0.0
	for i, load := range p.Passes.Loads {
		r := p.replayOf(t, i+1)
		sum += r.MotionS
		for k, pass := range load.Passes {
			tookAsLong(t, fmt.Sprintf("load %d, pass %d", i+1, k+1), r.Passes[k].ToS-r.Passes[k].FromS, pass.MotionS)
		}
		holdClock(t, r)
	}
	tookAsLong(t, "all loads", sum, p.Passes.Time.CutS+p.Passes.Time.TravelS+p.Passes.Time.LiftS)
}

func tookAsLong(t *testing.T, what string, got, want float64) {
	t.Helper()
	if want <= 0 || math.Abs(got-want) > 0.01*want {
		t.Errorf("%s: the replay takes %g s, the plan %g s", what, got, want)
	}
}

func holdClock(t *testing.T, r *replay.Replay) {
	t.Helper()
	now := 0.0
	for i, l := range r.Lines {
		first, last := l.Marks[0], l.Marks[len(l.Marks)-1]
		if l.FromS < now || l.DownS < l.FromS || first.S != l.DownS || last.S != l.UpS || l.UpS < l.DownS || l.UpS > r.MotionS {
			t.Fatalf("line %d runs from %g, down %g, up %g after %g, its marks from %g to %g", i, l.FromS, l.DownS, l.UpS, now, first.S, last.S)
		}
		now = l.UpS
	}
}

// holdLines looks whether the lines of a pass follow others.
func holdLines(t *testing.T, r *replay.Replay, pass int, want []geometry.Path, within float64) {
	t.Helper()
	var lines []replay.Line
	for _, l := range r.Lines {
		if l.Pass == pass && l.Role != replay.LeadIn {
			lines = append(lines, l)
		}
	}
	if len(lines) != len(want) {
		t.Fatalf("pass %d has %d lines, the plan %d", pass, len(lines), len(want))
	}
	for i, l := range lines {
		holdOn(t, l, want[i].Flatten(0.005), within)
	}
}

// holdOn looks whether the chords between the marks of a line follow other chords.
func holdOn(t *testing.T, l replay.Line, chords []geometry.Point, within float64) {
	t.Helper()
	const looks = 5 // at each chord
	for i := 0; i < looks*(len(l.Marks)-1); i++ {
		m, n := l.Marks[i/looks], l.Marks[i/looks+1]
		at := geometry.Pt(m.X, m.Y).Lerp(geometry.Pt(n.X, n.Y), float64(i%looks)/looks)
		off := math.Inf(1)
		for k := 1; k < len(chords); k++ {
			off = math.Min(off, fromChord(at, chords[k-1], chords[k]))
		}
		if off > within {
			t.Fatalf("pass %d, copy %d: at %g, %g it is %g mm off, over %g", l.Pass, l.Copy, at.X, at.Y, off, within)
		}
	}
}

func fromChord(q, a, b geometry.Point) float64 {
	ab, share := b.Sub(a), 0.0
	if l := ab.Dot(ab); l > 0 {
		share = math.Max(0, math.Min(1, q.Sub(a).Dot(ab)/l))
	}
	return q.Dist(a.Lerp(b, share))
}

func holdOrder(t *testing.T, r *replay.Replay) {
	t.Helper()
	outlined := map[int]bool{}
	rank := map[artwork.Operation]int{artwork.Pen: 0, artwork.Score: 1, artwork.Perforate: 2, artwork.KissCut: 3, artwork.ThroughCut: 4}
	last := 0
	for _, l := range r.Lines {
		now := rank[r.Passes[l.Pass-1].Operation]
		if now < last {
			t.Errorf("%s after a later operation", r.Passes[l.Pass-1].Operation)
		}
		last = now
		if l.Role == replay.Inside && outlined[l.Copy] {
			t.Errorf("copy %d: inside after the outline", l.Copy)
		}
		outlined[l.Copy] = outlined[l.Copy] || l.Role == replay.Outline
	}
	inside := 0
	for _, c := range r.Passes[len(r.Passes)-1].Counts {
		if c.Role == replay.Inside {
			inside = c.Lines
		}
	}
	if inside == 0 {
		t.Error("no line is said to lie inside another")
	}
}

// However much a load holds, its replay is about a megabyte and says what is left out;
// its time stays that of all lines, which grows evenly with equal ones.
func TestReplayOfMuchIsBounded(t *testing.T) {
	p := planOf(t, "film-removable-610", 1)
	pass := &p.Passes.Loads[0].Passes[0]
	hole := pass.Runs[0]
	times := func(n int) *replay.Replay {
		pass.Runs = slices.Repeat([]passes.Run{hole}, n)
		r := p.replayOf(t, 1)
		holdClock(t, r)
		return r
	}
	few, some, many := times(500), times(1000), times(12_000)
	tookAsLong(t, "12,000 lines", many.MotionS, some.MotionS+22*(some.MotionS-few.MotionS))
	marks := 0
	for _, l := range many.Lines {
		marks += len(l.Marks)
	}
	if n := len(many.Lines); many.Runs < 12_000 || many.EachOf < 2 || n > replay.MostLines || marks > replay.MostMarks || n*many.EachOf < many.Runs || (n-1)*many.EachOf >= many.Runs {
		t.Errorf("%d of %d lines, one of %d, %d marks", n, many.Runs, many.EachOf, marks)
	}
}
