package share_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
)

// By hand, of plates of 30 by 20 and 60 by 20 mm on card: three of the one, two of them
// spares, and two of the other take 1,800 and 2,400 mm² of one sheet. A plate larger than the
// sheet is left out and named with its size.
func TestWhatMembersTake(t *testing.T) {
	s := onStock(t, "card-160-a4", weeding.Pieces)
	s.add(t, 1, s.cuts(plate(30, 20)...)...)
	s.add(t, 2, s.cuts(plate(60, 20)...)...)
	s.add(t, 1, s.cuts(plate(400, 300)...)...)
	s.req.Members[0].Spares = 2
	laid := s.lay(t)
	holdsPlaces(t, s, laid)
	holdsMaps(t, s, laid)
	holdsShares(t, s, laid)
	if laid.Usage.Sheets != 1 || len(laid.Loads) != 1 || laid.Border != "" || laid.Whole().Purpose != weeding.Pieces {
		t.Errorf("%d sheets, border %q, for %q", laid.Usage.Sheets, laid.Border, laid.Whole().Purpose)
	}
	want := []share.Portion{{AreaMM2: 1800, Millionths: 428_571}, {AreaMM2: 2400, Millionths: 571_429}, {Left: true}}
	for i, p := range laid.Shares {
		if d := p.AreaMM2 - want[i].AreaMM2; d > 1e-6 || d < -1e-6 || p.Millionths != want[i].Millionths || p.Left != want[i].Left {
			t.Errorf("%s takes %g mm², %d, left out %v; want %+v", p.Code, p.AreaMM2, p.Millionths, p.Left, want[i])
		}
	}
	if len(laid.Findings) != 1 || !strings.HasPrefix(laid.Findings[0].Hint, "M003 is 400 × 300 mm, too large for ") {
		t.Errorf("found %+v", laid.Findings)
	}
}

// Where no member fits there is no load, and what all have in common is known all the same.
func TestNothingFits(t *testing.T) {
	s := onStock(t, "film-heat-500", weeding.Lettering)
	s.add(t, 1, s.cuts(plate(900, 800)...)...)
	laid := s.lay(t)
	if len(laid.Loads) != 0 || len(laid.Maps) != 0 || !laid.Shares[0].Left || len(laid.Findings) != 1 || laid.Findings[0].Code != finding.MemberLeftOut {
		t.Errorf("%d loads, %+v", len(laid.Loads), laid.Shares)
	}
	if whole := laid.Whole(); !whole.Mirrored || whole.Purpose != "" {
		t.Errorf("in common is %+v", whole)
	}
}

// What is said of the border is what is drawn: one round each copy, one round all on a load, or
// none where none is wanted.
func TestBorders(t *testing.T) {
	for _, c := range []struct {
		words   []string
		border  bool
		want    share.Border
		borders int
	}{
		{[]string{"BOARD", "gale", "Ebb", "QUAY 8", "ROPE", "PORT"}, true, share.BorderLoad, 1}, {[]string{"BOARD", "Ebb"}, true, share.BorderEach, 2}, {[]string{"BOARD", "Ebb"}, false, "", 0},
	} {
		s := onStock(t, "film-removable-610", weeding.Lettering)
		s.req.Layout.Chart.Border = c.border
		for _, text := range c.words {
			s.add(t, 1, s.cuts(word(text, 30)...)...)
		}
		laid := s.lay(t)
		borders := 0
		for _, stroke := range laid.Maps[0].Strokes {
			if stroke.Added == artwork.Border {
				borders++
			}
		}
		if len(laid.Maps) != 1 || laid.Border != c.want || borders != c.borders {
			t.Errorf("%v: the border is %q, drawn %d times on %d loads; want %q, %d", c.words, laid.Border, borders, len(laid.Maps), c.want, c.borders)
		}
		holdsMaps(t, s, laid)
	}
}
