package view_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"

	"knifedesk/jobs"
)

// planOfErrand plans an errand, with the first answer to what is asked. It is nil where no
// plan comes of it.
func planOfErrand(t *testing.T, e errand) *planned {
	t.Helper()
	if e.choices.Replies == nil {
		e.choices.Replies = ask.Replies{}
	}
	list := jobs.NewList()
	for range 12 {
		req, err := list.Choose(e.shop, e.choices)
		if err != nil {
			t.Fatal(err)
		}
		req.Lengths = e.marks
		done, status, err := local.Run(t.Context(), list.Rows, []byte(e.file), req)
		if err != nil {
			t.Fatal(err)
		}
		results := local.Results(done)
		p := &planned{list.Shown(results), req, status, list.Parts(results)}
		if status == plan.Ready {
			return p
		}
		_, questions := view.Outcome(p.parts)
		if status != plan.Asking || len(questions) == 0 {
			return nil
		}
		q := questions[0]
		if len(q.Parts) > 0 {
			q = q.Parts[0]
		}
		e.choices.Replies[q.ID] = ask.Reply{Answer: q.Answers[0].ID, MM: 84, Reason: "as drawn"}
	}
	return nil
}

// holdFiles reads the files of all loads, of all passes and of each alone, and cuts along
// them.
func (p *planned) holdFiles(t *testing.T, formats []reader, heading float64) {
	t.Helper()
	for load := range p.Passes.Loads {
		meant := p.meantOf(t, load)
		for _, r := range formats {
			p.holdFile(t, r, load, view.AllPasses, meant, heading)
			for i := range meant {
				if len(meant) > 1 && load == 0 {
					p.holdFile(t, r, load, i+1, meant[i:i+1], heading+1)
				}
			}
		}
	}
}

func (p *planned) holdFile(t *testing.T, r reader, load, pass int, meant []meantPass, heading float64) {
	t.Helper()
	var file bytes.Buffer
	if err := p.WriteLoad(t.Context(), &file, load+1, pass, r.format); err != nil {
		t.Fatal(err)
	}
	where, frame := fmt.Sprintf("%s, load %d, file %d", r.name, load+1, pass), p.frameOf(load)
	holdPage(t, where, r.format, file.String(), frame.sheet)
	got := r.read(t, file.Bytes())
	if len(got) != len(meant) {
		t.Fatalf("%s: %d passes, want %d", where, len(got), len(meant))
	}
	out := frame.out
	if r.format == view.SVG {
		out = geometry.Translate(frame.sheet.Min.X, frame.sheet.Min.Y).Then(out)
	}
	w := &watch{t: t, within: tipMM(r.format), heading: heading}
	for _, at := range p.Layout.Loads[load].Placements {
		onto := frame.sent.Then(frame.out)
		w.copies = append(w.copies, geometry.BoxAround(onto.Apply(at.Bounds.Min), onto.Apply(at.Bounds.Max)))
	}
	at := geometry.Point{} // the axis rests where the machine counts from
	for i, m := range meant {
		name, speed := m.name, 0.0
		if r.format == view.Plt {
			name, speed = fmt.Sprint(m.number), math.Floor(m.speed/10)*10
		}
		if got[i].name != name || got[i].speed != speed && m.speed >= 10 {
			t.Errorf("%s: pass %d is %q at %g mm/s, want %q at %g", where, i+1, got[i].name, got[i].speed, name, speed)
		}
		var lines []geometry.Path
		for _, l := range got[i].lines {
			lines = append(lines, l.Transform(out))
		}
		w.where = where + ", " + m.name
		p.holdLeadIn(t, w.where, load, m.number-1, pass != view.AllPasses, frame.sent.Then(frame.out), lines)
		w.cutMM = 0
		w.pass(m, lines)
		if pass == view.AllPasses && p.Estimate != nil {
			got := ran{cut: w.cutMM}
			at = got.travels(at, lines)
			p.holdRun(t, w.where, r.format, load, i, &m, got)
		}
	}
}

// holdPage looks for the size of the page, in A4 as 8400 × 11880 units.
func holdPage(t *testing.T, where string, format view.Format, file string, sheet geometry.Box) {
	t.Helper()
	want := ""
	switch format {
	case view.Plt:
		unit := func(v float64) int { return int(math.Round(v * 40)) }
		want = fmt.Sprintf("IP%d,%d,%d,%d;", unit(sheet.Min.X), unit(sheet.Min.Y), unit(sheet.Max.X), unit(sheet.Max.Y))
	case view.SVG:
		mm := func(v float64) float64 { return math.Round(v*1e6) / 1e6 }
		want = fmt.Sprintf(`width="%gmm" height="%gmm"`, mm(sheet.Width()), mm(sheet.Height()))
	default:
		return // readers look for it
	}
	if !strings.Contains(file, want) {
		t.Errorf("%s: no %s in %s", where, want, file[:min(len(file), 300)])
	}
}

// watch is somebody who looks at the blade while a file is cut.
type watch struct {
	t       *testing.T
	where   string
	within  float64
	heading float64
	known   bool // how the blade stands
	copies  []geometry.Box
	cutMM   float64 // by the tip, and by the axis in lead-ins
}

func (w *watch) pass(m meantPass, lines []geometry.Path) {
	w.t.Helper()
	w.known = w.known && !m.changed
	knife := &knifeTip{m.offset, w.heading}
	if m.offset > 0 && !w.known {
		if m.lead {
			w.leadIn(knife.cut(lines[0]))
			w.cutMM += lines[0].Length()
			lines = lines[1:]
		} else { // turned by hand
			knife.heading = headingOf(m.strokes[0].line)
		}
		w.known = true
	}
	for i, s := range m.strokes {
		if lines = w.stroke(fmt.Sprintf("%s, stroke %d", w.where, i+1), m, s, knife, lines); lines == nil {
			return
		}
	}
	if len(lines) > 0 {
		w.t.Errorf("%s: %d lines too many", w.where, len(lines))
	}
	w.heading = knife.heading
}

func headingOf(line geometry.Path) float64 {
	pts := line.Flatten(1e-6)
	d := pts[1].Sub(pts[0])
	return math.Atan2(d.Y, d.X)
}

func (w *watch) leadIn(trail []geometry.Point) {
	w.t.Helper()
	for _, box := range w.copies {
		for _, q := range trail {
			if box.Grow(0.4).Contains(q) {
				w.t.Errorf("%s: the lead-in comes to %v on a copy at %v", w.where, q, box)
				return
			}
		}
	}
}

// stroke cuts a stroke and returns the lines that are left; nil where there are too few.
func (w *watch) stroke(where string, m meantPass, s meantStroke, knife *knifeTip, lines []geometry.Path) []geometry.Path {
	w.t.Helper()
	if len(lines) == 0 {
		w.t.Errorf("%s: there is no line", where)
		return nil
	}
	trail, cut := knife.cut(lines[0]), lines[0].Length()
	lines = lines[1:]
	for m.lifts && len(lines) > 0 { // what goes on where it was lifted
		mm := cut + lines[0].Length()
		if trail[len(trail)-1].Dist(lines[0].Start) > 0.04 || mm > s.length(m.overcut)*1.003+0.05 {
			break
		}
		trail, cut, lines = append(trail, knife.cut(lines[0])...), mm, lines[1:]
	}
	w.cutMM += geometry.Polyline(trail...).Length()
	drawn := s.line.Flatten(1e-4)
	if off := between(trail, drawn); !(off <= w.within) {
		w.t.Errorf("%s: it and the tip lie %.4f mm apart", where, off)
	}
	// A blade that is turned off the line by the tolerance reaches its end so much later.
	const ends = 0.05
	if end := s.end(m.overcut); trail[len(trail)-1].Dist(end) > ends || trail[0].Dist(s.line.Start) > ends {
		w.t.Errorf("%s: it runs from %v to %v, want %v to %v", where, trail[0], trail[len(trail)-1], s.line.Start, end)
	}
	if m.offset == 0 && math.Abs(cut-s.length(m.overcut)) > 0.01*cut+0.1 {
		w.t.Errorf("%s: %g mm are cut, want %g", where, cut, s.length(m.overcut))
	}
	return lines
}
