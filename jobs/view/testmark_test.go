package view_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/replay"
)

// Where a plan names the batch that is loaded and its setting is not trusted for it, a
// square of 8 mm is cut in waste before what the setting cuts, once for all loads: a
// pass of its own, in files, list, summary, worksheet, replay and time. Without a batch
// there is none.
func TestATestMarkIsCutFirst(t *testing.T) {
	for _, b := range benches() {
		t.Run(b.name, func(t *testing.T) {
			choices := b.choices
			choices.Batch = "B 7"
			p := planIn(t, offsetIn(b.shop(), 0.5), b.file, choices)
			all := p.Passes.Loads[0].Passes
			at := len(all) - 2 // before the cut, which comes last
			mark := all[at].Mark
			if mark == nil || all[at+1].NoMark || math.Abs(mark.Box.Width()-8)+math.Abs(mark.Box.Height()-8) > 1e-9 {
				t.Fatalf("no mark is cut before the last of\n%s", p.text())
			}
			for i, load := range p.Passes.Loads {
				if i > 0 && len(load.Passes) != len(all)-1 {
					t.Errorf("load %d has %d passes", i+1, len(load.Passes))
				}
			}
			sheet := &p.Layout.Loads[0]
			for _, copied := range sheet.Placements {
				if copied.Bounds.Grow(0.5).Overlaps(mark.Box) || !(geometry.Box{Max: geometry.Pt(sheet.WidthMM, sheet.LengthMM)}).ContainsBox(mark.Box) {
					t.Errorf("the mark at %v lies on copy %d at %v, or off the stock", mark.Box, copied.Copy, copied.Bounds)
				}
			}
			holdMarkFile(t, p, at)
			p.holdTime(t)
			if lines := p.replayOf(t, 1).Lines; !slices.ContainsFunc(lines, func(l replay.Line) bool { return l.Role == replay.Test && l.Pass == at+1 }) {
				t.Error("the replay has no test mark")
			}
			holdMarkTold(t, p, at)
			if plain := planIn(t, b.shop(), b.file, b.choices); len(plain.Passes.Loads[0].Passes) != len(all)-1 {
				t.Error("without a batch there is a mark too")
			}
		})
	}
}

// holdMarkFile cuts along the file of the pass of a mark alone.
func holdMarkFile(t *testing.T, p *planned, at int) {
	t.Helper()
	pass := p.Passes.Loads[0].Passes[at]
	for _, r := range ownReaders() {
		got := r.read(t, fileOf(t, p, at+1, r.format))
		if len(got) != 1 || len(got[0].lines) != 2 || r.format != view.Plt && !strings.HasSuffix(got[0].name, "_test_mark") {
			t.Fatalf("%s: the file of the mark has %+v", r.name, got)
		}
		knife := knifeTip{pass.Rule.OffsetMM, 1}
		knife.cut(got[0].lines[0])
		checkStrokes(t, r.name, tipMM(r.format), &knife, []geometry.Path{pass.Mark.Box.Path()}, got[0].lines[1:], pass)
	}
}

// holdMarkTold looks for what is said of a mark, in its place.
func holdMarkTold(t *testing.T, p *planned, at int) {
	t.Helper()
	list, err := p.ListPasses(1)
	if err != nil {
		t.Fatal(err)
	}
	const told = "alone first; go on only where it comes out clean"
	if line := list.Passes[at]; line.Strokes != 1 || !strings.Contains(strings.Join(line.Steps, " "), told) {
		t.Errorf("the list says %+v", line)
	}
	page := strings.Join(strings.Fields(printOf(t, p).pages[0].raw), " ")
	mark, cut := strings.Index(page, told), strings.LastIndex(page, "through cut")
	if p.request.Stock.Liner {
		cut = strings.LastIndex(page, "kiss cut")
	}
	if mark < 0 || cut < mark {
		t.Errorf("the worksheet tells the mark at %d, the cut at %d:\n%s", mark, cut, page)
	}
	if text := p.text(); strings.Count(text, "a test mark") != 1 {
		t.Errorf("the summary says\n%s", text)
	}
}

// Where a load has no room for a mark that is said, before the pass that it is for.
func TestNoRoomForATestMark(t *testing.T) {
	const full = `<svg xmlns="http://www.w3.org/2000/svg" width="198mm" height="284mm" viewBox="0 0 198 284" fill="none" stroke="#000"><g id="CUT"><path d="M0 0H198V284H0Z"/></g></svg>`
	p := planIn(t, neutral(), full, plan.Choices{Stock: "card-160-a4", Copies: 1, Batch: "B 7", Size: plan.Size{Unit: "mm"}})
	if p.Passes == nil || len(p.Passes.Loads) != 1 || !p.Passes.Loads[0].Passes[0].NoMark {
		t.Fatalf("not the plan that is meant:\n%s", p.text())
	}
	list, err := p.ListPasses(1)
	if err != nil || !strings.Contains(list.Text(), "no room for a test mark") {
		t.Errorf("%v\n%s", err, list.Text())
	}
}
