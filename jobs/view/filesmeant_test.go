package view_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// meantPass is what a pass of a file has to cut, worked out from the strokes, their
// places, and the data of the workshop: not from the rules of the plan.
type meantPass struct {
	number          int
	name            string
	speed           float64
	offset, overcut float64 // that the file has to hold
	lifts           bool    // at sharp corners
	changed         bool
	lead            bool // it begins with a lead-in, where it is run by itself at least
	strokes         []meantStroke
}

// meantStroke is one line as it comes out of the machine, run in so many rounds.
type meantStroke struct {
	line   geometry.Path
	rounds int
}

// meantFrame says how a file is laid: the map from load coordinates to it, and from it to
// where the machine, which may stretch, comes to.
type meantFrame struct {
	sent, out geometry.Affine
	sheet     geometry.Box // as it is sent
}

// frameOf works out how files of a load lie, by hand: for each feed, the axis of the
// machine for across and along.
func (p *planned) frameOf(load int) meantFrame {
	sheet, m := p.Layout.Loads[load], p.request.Machine
	var o geometry.Point
	if a := m.Axes.Origin; a == workshop.LeadRight || a == workshop.TailRight {
		o.X = sheet.WidthMM
	}
	if a := m.Axes.Origin; a == workshop.TailLeft || a == workshop.TailRight {
		o.Y = sheet.LengthMM
	}
	turn := map[workshop.Direction]geometry.Affine{
		workshop.MinusY: {A: -1, D: -1}, workshop.PlusX: {B: -1, C: 1}, workshop.MinusX: {B: 1, C: -1},
	}[m.Axes.Feed]
	if turn == (geometry.Affine{}) {
		turn = geometry.Identity
	}
	onto := geometry.Translate(-o.X, -o.Y).Then(turn)
	f := meantFrame{sent: onto, out: geometry.Identity, sheet: geometry.BoxAround(onto.Apply(geometry.Point{}), onto.Apply(geometry.Pt(sheet.WidthMM, sheet.LengthMM)))}
	if l := p.request.Lengths; l != nil && l.Off() && m.Lengths == workshop.LengthsByFile {
		x, y := 100/l.AcrossMM, 100/l.AlongMM
		if m.Axes.Feed == workshop.PlusX || m.Axes.Feed == workshop.MinusX {
			x, y = y, x
		}
		f.sent, f.out = onto.Then(geometry.Scale(x, y)), geometry.Scale(1/x, 1/y)
	}
	return f
}

// meantOf lists what the files of a load have to cut.
func (p *planned) meantOf(t *testing.T, load int) []meantPass {
	t.Helper()
	frame, by := p.frameOf(load), p.request.Machine.Compensates
	var all []meantPass
	for i := range p.Passes.Loads[load].Passes {
		pass := &p.Passes.Loads[load].Passes[i]
		m := meantPass{number: i + 1, name: fmt.Sprintf("%02d_%s", i+1, pass.Operation), speed: pass.Setting.SpeedMMS, changed: pass.Changed, lead: pass.LeadIn != nil || pass.LeadInAlone != nil}
		if blade, ok := p.bladeOf(pass); ok && pass.Blade != "" {
			if !by.Offset() {
				m.offset = blade.OffsetMM
			}
			if !by.Overcut() && pass.Operation != artwork.Score {
				m.overcut = blade.OvercutMM
			}
			m.lifts = p.request.Machine.TurnsLifted && m.offset == 0 && pass.Setting.LiftBelowDeg > 0
		}
		if pass.Mark != nil {
			m.name = fmt.Sprintf("%02d_test_mark", i+1)
			m.strokes = frame.strokes(pass.Mark.Box.Path(), pass.Setting)
		}
		for _, r := range pass.Runs {
			m.strokes = append(m.strokes, frame.strokes(p.drawnBy(t, load, r), pass.Setting)...)
		}
		all = append(all, m)
	}
	return all
}

// bladeOf is the blade of a pass: that of its setting, or of the cut where it scores by that.
func (p *planned) bladeOf(pass *passes.Pass) (workshop.Blade, bool) {
	m := p.request.Machine
	i := slices.IndexFunc(append(slices.Clone(m.Blades), m.Blade), func(b workshop.Blade) bool { return b.ID == pass.Blade })
	if i < 0 {
		return workshop.Blade{}, false
	}
	return append(slices.Clone(m.Blades), m.Blade)[i], true
}

// drawnBy is the line of a run on its load, from where it is begun.
func (p *planned) drawnBy(t *testing.T, load int, r passes.Run) geometry.Path {
	t.Helper()
	for _, at := range p.Layout.Loads[load].Placements {
		if at.Copy == r.Copy {
			stroke := p.MapOn(load + 1).Strokes[r.Stroke]
			return startingAt(pastEnds(stroke.Path.Transform(at.Transform), r), r.At)
		}
	}
	t.Fatalf("load %d: copy %d does not lie on it", load+1, r.Copy)
	return geometry.Path{}
}

// strokes are the lines from a lowering of the tool to its lifting.
func (f meantFrame) strokes(line geometry.Path, set workshop.Setting) []meantStroke {
	var all []meantStroke
	rounds := max(1, set.Passes)
	for _, cut := range dashed(line.Transform(f.sent.Then(f.out)), set) {
		if cut.Closed {
			all = append(all, meantStroke{cut, rounds})
			continue
		}
		all = append(all, slices.Repeat([]meantStroke{{cut, 1}}, rounds)...)
	}
	return all
}

// end is where the tip ends: past the closure by the overcut, round at most once.
func (s meantStroke) end(overcut float64) geometry.Point {
	if !s.line.Closed || overcut == 0 {
		return s.line.End()
	}
	pts := s.line.Flatten(1e-4)
	for i := 1; i < len(pts); i++ {
		if d := pts[i-1].Dist(pts[i]); d >= overcut {
			return pts[i-1].Lerp(pts[i], overcut/d)
		}
		overcut -= pts[i-1].Dist(pts[i])
	}
	return s.line.End()
}

// length is how far the tip runs.
func (s meantStroke) length(overcut float64) float64 {
	mm := s.line.Length()
	if !s.line.Closed {
		return mm
	}
	return float64(s.rounds)*mm + math.Min(overcut, mm)
}
