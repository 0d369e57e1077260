package jobs_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Two squares of film, 20 mm each and 10 mm apart: 50 × 20.
const twoSquares = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30">
<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1"><path d="M5 5H25V25H5Z"/><path d="M35 5H55V25H35Z"/></g></svg>`

// added is how many lines of a kind were added to those of all loads, and how long they
// are in mm.
func added(l *layout.Layout, m *weeding.Map, kind artwork.Added) (n int, mm float64) {
	for i := range l.Loads {
		for _, s := range l.MapOf(&l.Loads[i], m).Strokes {
			if s.Added == kind {
				n += len(l.Loads[i].Placements)
				mm += s.Path.Length() * float64(len(l.Loads[i].Placements))
			}
		}
	}
	return n, mm
}

// By hand, for 24 copies on 590 mm of roll with lead and tail of 50, a gap of 10 and a
// border 5 mm outside. With a border each a copy takes 60 × 30: 8 across, 3 rows, a run of
// 3·30 + 2·10 + 100 = 210 mm, and 24·180 mm of borders. With one border 580 mm are left: 9
// across, rows of 9, 9 and 6, a run of 3·20 + 2·10 + 2·5 + 100 = 190 mm, and a border of
// 540 × 90. Of its 48 squares 32 lie at the border, 5 mm off, and 16 are joined to another,
// 10 mm off: 320 mm of relief lines at least, and some more that part what a hand cannot
// hold, but fewer than a line of 10 mm for each square.
func TestOneBorderRoundAllCopies(t *testing.T) {
	list := jobs.NewList()
	for _, stock := range []string{"film-removable-610", "film-heat-500"} {
		c := plan.Choices{Stock: stock, Purpose: weeding.Lettering, Copies: 24, Size: plan.Size{Unit: "mm"}}
		_, before := planned(t, list, twoSquares, c)
		c.Options.OneBorder = true
		r, after := planned(t, list, twoSquares, c)
		m, each, one := list.Weeding.In(before), list.Layout.In(before), list.Layout.In(after)
		if n, mm := added(each, m, artwork.Border); n != 24 || math.Abs(mm-24*180) > 1e-6 || each.Shared() {
			t.Errorf("%s: %d borders of %g mm", stock, n, mm)
		}
		n, mm := added(one, m, artwork.Border)
		_, relief := added(one, m, artwork.Relief)
		if n != 1 || relief < 320-1e-6 || relief > 480 || mm+relief >= 24*180 {
			t.Errorf("%s: %d borders, %g mm, and %g mm of relief lines", stock, n, mm, relief)
		}
		if r.Stock.UsableWidthMM == 590 && (each.Usage.RollMM != 210 || math.Abs(one.Usage.RollMM-190) > 0.001 || math.Abs(mm-2*(540+90)) > 0.01) {
			t.Errorf("%s: %g mm of roll, %g with one border of %g mm", stock, each.Usage.RollMM, one.Usage.RollMM, mm)
		}
		var numbers []int
		for _, l := range one.Loads {
			for _, p := range l.Places {
				numbers = append(numbers, p.Copy)
			}
			for _, r := range one.MapOf(&l, m).Regions {
				if !r.Kept() && len(r.Holes) > 0 {
					t.Errorf("%s: region %d is a ring and does not peel", stock, r.Number)
				}
			}
		}
		if first := layout.Names(one.Loads[0].Rows()[0]); r.Stock.UsableWidthMM == 590 && first != "1, 2, 3, 4, 5, 6, 7, 8, 9" {
			t.Errorf("%s: first row %s", stock, first)
		}
		slices.Sort(numbers)
		if kept, _ := laid(one, m); len(numbers) != 24 || numbers[0] != 1 || numbers[23] != 24 || math.Abs(kept-24*800) > 1 {
			t.Errorf("%s: copies %v, %g mm² kept", stock, numbers, kept)
		}
		a, b := list.Estimate.In(after), list.Estimate.In(before)
		if a.CutterMin.Likely >= b.CutterMin.Likely || a.BenchMin.Likely > b.BenchMin.Likely {
			t.Errorf("%s: %g min of the cutter, %g with a border each; %g of the bench, %g", stock, a.CutterMin.Likely, b.CutterMin.Likely, a.BenchMin.Likely, b.BenchMin.Likely)
		}
		again, err := jobs.Recut(t.Context(), workshop.Example(), *r, []jobs.Spoiled{{Copy: 7}, {Copy: 24}}, m, nil, r.Stock)
		if err != nil || again.Copies != 2 {
			t.Errorf("%s: two copies again: %v", stock, err)
		}
	}
}

// Nothing changes where there is one copy, a drawing framed by an outline of its own, work
// in panels, card, or more lines than are drawn in one map. Where there is something to
// weed the layout says why.
func TestNoBorderRoundAllCopies(t *testing.T) {
	list := jobs.NewList()
	const framed = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30">
<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1"><path d="M5 5H55V25H5Z"/><path d="M15 10H35V20H15Z"/></g></svg>`
	const wide = `<svg xmlns="http://www.w3.org/2000/svg" width="1800mm" height="1000mm" viewBox="0 0 1800 1000">
<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1"><path d="M30 50H1770V950H30Z"/><path d="M100 100H300V800H100Z"/></g></svg>`
	for _, c := range []struct {
		name, file, stock string
		copies            int
		purpose           weeding.Purpose
		why               string // begins so; empty: nothing is said
	}{
		{"one copy", twoSquares, "film-removable-610", 1, weeding.Lettering, ""},
		{"card", twoSquares, "card-220-a4", 6, weeding.Pieces, ""},
		{"framed", framed, "film-removable-610", 6, weeding.Lettering, "each copy is framed by an outline of its own"},
		{"framed, in panels", wide, "film-removable-610", 2, weeding.Lettering, "each panel is weeded by itself"},
		{"many copies", twoSquares, "film-removable-610", 1001, weeding.Lettering, "it goes round 1000 copies with 20000 lines in all at most, and these have 5005; ask for 1000 copies at once"},
	} {
		choice := plan.Choices{Stock: c.stock, Purpose: c.purpose, Copies: c.copies, Size: plan.Size{Unit: "mm"}, Options: plan.Options{OneBorder: true, Panels: layout.PanelsAllowed}}
		_, found := planned(t, list, c.file, choice)
		l := list.Layout.In(found)
		if l.Shared() {
			t.Errorf("%s: laid with one border", c.name)
		}
		var why []string
		for _, f := range l.Findings {
			if f.Code == finding.NoCommonBorder {
				why = append(why, f.Values["why"].String())
			}
		}
		if c.why == "" && len(why) > 0 || c.why != "" && (len(why) != 1 || !strings.HasPrefix(why[0], c.why)) {
			t.Errorf("%s: %q, not %q", c.name, why, c.why)
		}
	}
}
