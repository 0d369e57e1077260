package picture

import (
	"strings"
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

// An arrow ends 4 pixels before its region does: here 30 mm run on to the right of
// the pick point, and the badge has a radius of 12.5 pixels.
func TestArrowsStayInTheirRegion(t *testing.T) {
	const mm = 5.0
	opened(t, []geometry.Box{boxed(10, 20, 20, 30)}, func(s *sheet) {
		number := s.stand(weeding.Step{Order: 1, Region: 2, Pick: geometry.Pt(20-mm, 25)})
		number.r = 12.5
		room := mm*s.Scale - number.r - 4
		if room < 21 || room > 33 {
			t.Fatalf("the scale of %v pixels for a mm leaves an arrow %v: choose another length", s.Scale, room)
		}
		if s.pullArrow(&number); number.arrow > room+1e-9 || number.arrow < room-figure.Cell {
			t.Errorf("the arrow has %v pixels, want %v less a cell at most", number.arrow, room)
		}
	})
}

// Numbers do not stand on each other or on the pick point of another; where two
// have one pick point, one stands beside it, and what it covers is known.
func TestNumbersKeepApart(t *testing.T) {
	opened(t, []geometry.Box{boxed(40, 20, 60, 40), boxed(10, 10, 11, 11)}, func(s *sheet) {
		steps := []weeding.Step{
			{Order: 1, Region: 2, Pick: geometry.Pt(50, 30)}, {Order: 2, Region: 2, Pick: geometry.Pt(50, 30)}, {Order: 3, Region: 3, Pick: geometry.Pt(10.5, 10.5)},
		}
		all := s.place(steps)
		if all[0].apart() || !all[1].apart() || !all[2].apart() {
			t.Errorf("standing apart: %t, %t, %t", all[0].apart(), all[1].apart(), all[2].apart())
		}
		for i, a := range all {
			for _, b := range all[:i] {
				if d := a.at.Dist(b.at); d < a.r+b.r {
					t.Errorf("%d and %d are %v pixels apart", a.step.Order, b.step.Order, d)
				}
			}
		}
		if all[2].covers {
			t.Error("a number on what stays covers something")
		}
	})
	// Nothing but what goes lies round the second: wherever it stands, it hides some.
	opened(t, []geometry.Box{boxed(0, 0, 49, 60), boxed(49, 28, 51, 30), boxed(51, 0, 100, 60)}, func(s *sheet) {
		if all := s.place([]weeding.Step{{Order: 1, Region: 3, Pick: geometry.Pt(50, 29)}}); !all[0].covers {
			t.Error("a number on what goes covers nothing")
		}
	})
}

// What goes is what cuts between parts spare.
func TestDivisionSparesWhatGoes(t *testing.T) {
	goes := []geometry.Box{boxed(10, 10, 30, 30), boxed(60, 10, 64, 14)}
	opened(t, goes, func(s *sheet) {
		got := s.division().peeled
		if len(got) != len(goes) || got[0] != goes[0] || got[1] != goes[1] {
			t.Errorf("spared are %v, want %v", got, goes)
		}
	})
}

// The digits of a number fit into its badge.
func TestDigitsFitTheirBadge(t *testing.T) {
	opened(t, nil, func(s *sheet) {
		for digits := 1; digits <= 4; digits++ {
			for _, size := range badgeSizes(digits) {
				if w := s.TextWidth(strings.Repeat("8", digits), size[1], true); w > 2*size[0] {
					t.Errorf("%d digits are %v wide in a badge of %v", digits, w, 2*size[0])
				}
			}
		}
	})
}
