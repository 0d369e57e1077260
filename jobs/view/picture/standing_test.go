package picture

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// opened runs f with a map of a kept plate of 100 × 60 mm and a region in each
// box that goes, numbered from 2, its panel open and painted.
func opened(t *testing.T, goes []geometry.Box, f func(s *sheet)) {
	t.Helper()
	plate := boxed(0, 0, 100, 60)
	m := &weeding.Map{Purpose: weeding.Lettering, Bounds: plate, Strokes: []artwork.Stroke{{Path: plate.Path(), Operation: artwork.KissCut}}}
	kept := weeding.Region{Number: 1, Class: weeding.Kept, Outer: plate.Path()}
	for i, b := range goes {
		kept.Holes = append(kept.Holes, b.Path().Reversed())
		m.Regions = append(m.Regions, weeding.Region{Number: i + 2, Class: weeding.Counter, Outer: b.Path(), Pick: b.Centre(), PickRadiusMM: b.Height() / 2})
	}
	m.Regions = append(m.Regions, kept)
	err := budget.Run(t.Context(), func(b *budget.Budget) {
		s := &sheet{page: newPage(b, "", ""), m: m, extent: plate, byNumber: map[int]*weeding.Region{}}
		for i := range m.Regions {
			s.byNumber[m.Regions[i].Number] = &m.Regions[i]
		}
		s.Open(s.extent, figure.Inset{})
		s.regions()
		f(s)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A number beside its region hides something where it covers more than three
// cells of what goes elsewhere, or a fifth of its own region; never where it
// stands on what stays.
func TestNumbersThatHide(t *testing.T) {
	opened(t, []geometry.Box{boxed(10, 10, 30, 30), boxed(60, 10, 64, 14), boxed(90, 10, 90.9, 10.9)}, func(s *sheet) {
		const r = 12.5
		mm := r / s.Scale
		for _, c := range []struct {
			name   string
			at     geometry.Point
			region int
			want   bool
		}{
			{"on what stays", geometry.Pt(45, 45), 2, false},
			{"on another that goes", geometry.Pt(20, 20), 3, true},
			{"on its own, a large one", geometry.Pt(20, 20), 2, false},
			{"on its own, a small one", geometry.Pt(62, 12), 3, true},
			{"at the edge of another", geometry.Pt(30+0.5*mm, 20), 3, true},
			{"all but touching another", geometry.Pt(30+1.1*mm, 20), 3, false},
			{"on another that has few cells", geometry.Pt(90.45, 10.45), 2, s.cells(4) > 3},
			{"of a region that is not known", geometry.Pt(45, 45), 99, false},
		} {
			if got := s.hides(s.View.Apply(c.at), r, c.region); got != c.want {
				t.Errorf("%s: hides %t, want %t", c.name, got, c.want)
			}
		}
	})
}

// cells counts the cells of a region.
func (s *sheet) cells(region int) (n int) {
	for i := range s.Spots.Count() {
		if s.Spots.Region(i) == region {
			n++
		}
	}
	return n
}

// An arrow keeps its line and its head free of what is placed after it; one
// that another mark bars is left out, and so is one with less than 20 pixels.
func TestArrowsKeepTheirRoom(t *testing.T) {
	goes := []geometry.Box{boxed(10, 10, 50, 30), boxed(60, 10, 64, 14)}
	opened(t, goes, func(s *sheet) {
		st := weeding.Step{Order: 1, Region: 2, Pick: geometry.Pt(15, 20), PeelDeg: 0}
		number := s.stand(st)
		if number.apart() || number.r != 12.5 {
			t.Fatalf("the number stands %v, want it at its pick point", number)
		}
		s.pullArrow(&number)
		if number.arrow != 34 {
			t.Fatalf("the arrow has %v pixels, want 34, as there is room", number.arrow)
		}
		tip := number.start().Add(geometry.Pt(34, 0))
		for _, c := range []struct {
			at   geometry.Point
			free bool
		}{{tip, false}, {tip.Sub(geometry.Pt(16, 0)), false}, {tip.Add(geometry.Pt(-4, 3)), false}, {tip.Add(geometry.Pt(9, 0)), true}, {tip.Add(geometry.Pt(-4, 12)), true}} {
			if got := s.Spots.Lonely(c.at, 0); got != c.free {
				t.Errorf("%v from the tip: free %t, want %t", c.at.Sub(tip), got, c.free)
			}
		}
		barred := s.stand(st)
		barred.at = number.at
		if s.pullArrow(&barred); barred.arrow != 0 {
			t.Errorf("a second arrow of %v pixels lies on the first", barred.arrow)
		}
		short := s.stand(weeding.Step{Order: 2, Region: 3, Pick: geometry.Pt(62, 12)})
		if s.pullArrow(&short); short.arrow != 0 {
			t.Errorf("an arrow of %v pixels in a square of 4 mm", short.arrow)
		}
	})
}
