package layout_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// signOnCard is a plate of 390 × 440 mm with a corner off, a round and square holes, in
// panels of A4 card.
func signOnCard(t *testing.T, join *workshop.Join, mirror bool) *layout.Layout {
	t.Helper()
	req := on(t, "card-220-a4", "wide-610", 1)
	req.Panels, req.Stock.Join, req.Mirror = layout.PanelsAllowed, join, &mirror
	req.Chart = weeding.Request{Purpose: weeding.Pieces, Stock: workshop.Stock{Limits: workshop.DefaultLimits()}}
	plate := geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(390, 0), geometry.Pt(390, 330), geometry.Pt(320, 440), geometry.Pt(0, 440))
	l, _ := placeCut(t, req, artwork.ThroughCut, plate, geometry.Circle(geometry.Pt(190, 250), 60), rect(30, 30, 110, 60), rect(1.5, 240, 3, 260), rect(60, 248, 66, 251))
	if l.Panels == nil || len(l.Panels.List) < 3 {
		t.Fatalf("%+v", l.Findings)
	}
	return l
}

// behind is what of a panel is glued behind those that follow it at its sides.
func behind(l *layout.Layout, i int) []geometry.Box {
	var all []geometry.Box
	p := l.Panels.List[i].Box
	for _, q := range l.Panels.List {
		both := geometry.Box{
			Min: geometry.Pt(math.Max(p.Min.X, q.Box.Min.X), math.Max(p.Min.Y, q.Box.Min.Y)), Max: geometry.Pt(math.Min(p.Max.X, q.Box.Max.X), math.Min(p.Max.Y, q.Box.Max.Y)),
		}
		if w := l.Panels.Join.OverlapMM; !both.Empty() && (math.Abs(both.Width()-w) < 1e-9 && q.Box.Max.X > p.Max.X || math.Abs(both.Height()-w) < 1e-9 && q.Box.Max.Y > p.Max.Y) {
			all = append(all, both)
		}
	}
	return all
}

// Each panel that is glued behind another has its code in a tab and slits that begin where
// the next one's edge comes; all of it is in what is kept, off other lines, and covered.
func TestGlueTabsAreMarkedAndCoded(t *testing.T) {
	l := signOnCard(t, nil, false)
	coded := 0
	for i, p := range l.Panels.List {
		tabs, m := behind(l, i), l.Maps[i]
		if (p.Marks > 0) != (len(tabs) > 0) || p.Coded && len(tabs) == 0 {
			t.Errorf("%s with %d tabs: %+v", p.Code, len(tabs), p)
		}
		marks, lines := 0, 0
		for k, s := range m.Strokes {
			if s.Added != artwork.Mark && s.Added != artwork.Code {
				continue
			}
			lines++
			box := s.Path.Bounds()
			at := slices.IndexFunc(tabs, func(tab geometry.Box) bool { return tab.Grow(1e-9).ContainsBox(box) })
			if s.Operation != artwork.ThroughCut || s.Path.Closed || at < 0 || m.KeptAt(nil, box.Centre()) == 0 {
				t.Errorf("%s: a %s at %v, %s, lies under no other panel", p.Code, s.Added, box, s.Operation)
				continue
			}
			for n, o := range m.Strokes {
				if off := apart(s.Path, o.Path); n != k && o.Added != artwork.Code && off < 1.9 {
					t.Errorf("%s: a %s at %v lies %g mm off a line", p.Code, s.Added, box, off)
				}
			}
			if s.Added == artwork.Mark {
				marks++
				from := s.Path.Start
				if tab := tabs[at]; math.Abs(s.Path.Length()-3) > 1e-9 || math.Abs(from.X-tab.Min.X) > 1e-9 && math.Abs(from.Y-tab.Min.Y) > 1e-9 {
					t.Errorf("%s: a slit of %g mm from %v does not begin at the edge of %v", p.Code, s.Path.Length(), from, tab)
				}
			}
		}
		if marks != p.Marks || (lines > marks) != p.Coded {
			t.Errorf("%s: %d slits and %d other lines, told %+v", p.Code, marks, lines-marks, p)
		}
		if p.Coded {
			coded++
		}
	}
	if coded < len(l.Panels.List)-1 {
		t.Errorf("%d of %d are coded", coded, len(l.Panels.List))
	}
}

// A narrow tab has shorter slits and no room for a code; edge to edge there is nothing; and
// the codes of mirrored work are cut mirrored.
func TestOtherTabs(t *testing.T) {
	for _, join := range []workshop.Join{{Joint: workshop.Tab, OverlapMM: 6}, {Joint: workshop.Butt}} {
		l := signOnCard(t, &join, false)
		for i, p := range l.Panels.List {
			if p.Coded || (p.Marks > 0) != (len(behind(l, i)) > 0 && join.Joint == workshop.Tab) {
				t.Errorf("%+v: %+v", join, p)
			}
			for _, s := range l.Maps[i].Strokes {
				if s.Added == artwork.Mark && math.Abs(s.Path.Length()-2) > 1e-9 {
					t.Errorf("a slit of %g mm in a tab of 6", s.Path.Length())
				}
			}
		}
	}
	first := func(mirror bool) (stem, whole geometry.Box) {
		whole = geometry.EmptyBox()
		for _, s := range signOnCard(t, nil, mirror).Maps[0].Strokes {
			if s.Added != artwork.Code {
				continue
			}
			if whole.Empty() {
				stem = s.Path.Bounds() // of the P
			}
			whole = whole.Union(s.Path.Bounds())
		}
		return stem, whole
	}
	plain, whole := first(false)
	turned, mirrored := first(true)
	if math.Abs(whole.Width()-mirrored.Width()) > 1e-9 || plain.Min.X != whole.Min.X || turned.Max.X != mirrored.Max.X || turned == mirrored {
		t.Errorf("the P at %v of %v, mirrored at %v of %v", plain, whole, turned, mirrored)
	}
}
