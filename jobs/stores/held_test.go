package stores_test

import (
	"testing"
	"time"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"
)

// By hand: stock is held for hours from now, or from the end of the booking on.
func TestHowLongStockIsHeld(t *testing.T) {
	now := time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)
	ends := now.Add(50 * time.Hour)
	r := stores.Rules{HoldH: 72, AfterBookingH: 24, WarnH: 5}
	if got := r.HeldUntil(now, nil).Sub(now); got != 72*time.Hour {
		t.Errorf("without a booking it is held for %v", got)
	}
	if got := r.HeldUntil(now, &ends).Sub(now); got != 74*time.Hour {
		t.Errorf("with a booking it is held for %v", got)
	}
	if got := r.WarnFrom(); got != 5*time.Hour {
		t.Errorf("it is told %v before", got)
	}
}

// By hand: where an offcut of a roll is cut. In the rollers it keeps the lanes of
// the roll, 20 mm, and loses the longer of lead and tail at both ends; on a mat
// 5 mm all round are lost.
func TestWhereAnOffcutIsCut(t *testing.T) {
	data := workshop.Example()
	film, _ := data.Stock("film-removable-610")
	film.LeadMM, film.TailMM, film.UsableWidthMM = 40, 60, film.WidthMM-20
	card, _ := data.Stock("card-220-a4")
	rules := stores.Rules{LeastRollerMM: 69}
	whole := film
	whole.UsableWidthMM = whole.WidthMM
	for _, c := range []struct {
		name          string
		of            workshop.Stock
		width, length int64
		usable        float64
		margin        float64
		offered       bool
	}{
		{"in the rollers", film, 300, 400, 280, 60, true},
		{"just long enough for them", film, 300, 170, 280, 60, true},
		{"too short for them", film, 300, 169, 290, 5, true},
		{"just wide enough for them", film, 70, 400, 50, 60, true},
		{"too narrow between the lanes", film, 69, 400, 59, 5, true},
		{"without lanes", whole, 300, 400, 300, 60, true},
		{"on a mat", card, 150, 200, 140, 5, true},
		{"just enough to cut in", card, 60, 60, 50, 5, true},
		{"too little to cut in", card, 60, 59, 50, 5, false},
	} {
		s, offered := rules.StockOf("A7", c.of, c.width, c.length, data.Machines)
		if offered != c.offered || s.UsableWidthMM != c.usable || s.MarginMM != c.margin || s.LeadMM != 0 || s.TailMM != 0 || s.WidthMM != float64(c.width) || s.LengthMM != float64(c.length) || s.NamedSize != "" || s.Name != c.of.Name+", offcut A7" {
			t.Errorf("%s: offered %t, %+v", c.name, offered, s)
		}
	}
}

// The nearest stock differs least in caliper, then in size, and holds the need.
func TestNearestOfSeveral(t *testing.T) {
	want := workshop.Stock{ID: "want", Form: workshop.Sheet, CaliperUM: 200, WidthMM: 210, LengthMM: 297, UsableWidthMM: 200, MarginMM: 5}
	other := func(id string, caliper, width, length float64) workshop.Stock {
		s := want
		s.ID, s.CaliperUM, s.WidthMM, s.LengthMM, s.UsableWidthMM = id, caliper, width, length, width-10
		return s
	}
	var lots []stores.Lot
	for _, id := range []string{"want", "thick", "thin", "wide", "long", "same", "empty"} {
		lots = append(lots, stores.Lot{Code: id, Item: id, Kind: stores.Sheets, Counted: true, Free: 5})
	}
	thick, thin, wide, long, same := other("thick", 260, 210, 297), other("thin", 150, 210, 297), other("wide", 200, 300, 297), other("long", 200, 210, 420), other("same", 200, 210, 297)
	for _, c := range []struct {
		among []workshop.Stock
		want  string
	}{
		{[]workshop.Stock{thick, thin}, "thin"}, {[]workshop.Stock{thin, thick}, "thin"}, {[]workshop.Stock{thin, wide}, "wide"}, {[]workshop.Stock{wide, long}, "long"}, {[]workshop.Stock{long, same, want}, "same"},
		{[]workshop.Stock{other("unknown", 200, 210, 297), thick}, "thick"}, {[]workshop.Stock{other("long", 200, 210, 296)}, ""}, {[]workshop.Stock{other("wide", 200, 209, 297)}, ""},
	} {
		got, ok := stores.Nearest(want, stores.Need{Item: "want", Kind: stores.Sheets, Amount: 5}, c.among, lots)
		if got.ID != c.want || ok != (c.want != "") {
			t.Errorf("of %d the nearest is %q, want %q", len(c.among), got.ID, c.want)
		}
	}
}

// Amounts are written with their unit, one of a kind without a plural.
func TestAmountsInWords(t *testing.T) {
	for _, c := range []struct {
		form       workshop.Form
		unit       string
		one, three string
	}{
		{workshop.Sheet, "sheets", "1 sheet", "3 sheets"}, {workshop.Roll, "mm", "1 mm of roll", "3 mm of roll"}, {workshop.Offcut, "pieces", "1 offcut", "3 offcuts"},
	} {
		k := stores.KindOf(c.form)
		if k.Unit() != c.unit || k.Text(1) != c.one || k.Text(3) != c.three {
			t.Errorf("%s: %s, %q, %q", k, k.Unit(), k.Text(1), k.Text(3))
		}
	}
	if k := stores.Tape; k.Unit() != "mm" || k.Text(400) != "400 mm of tape" {
		t.Errorf("tape: %s, %q", k.Unit(), k.Text(400))
	}
}

// By hand, beside those of the other tests: tape is needed where there is some and
// its tack is known, a pile gives its last sheet, and what is left, or more than
// was handed out, is worked out.
func TestLittleIsNotNothing(t *testing.T) {
	tape := func(m float64, tack workshop.Tack) int {
		return len(stores.Needs("x", workshop.Roll, layout.Usage{RollMM: 9, TapeM: m, TapeTack: tack}))
	}
	if a, b, c := tape(0.5, workshop.LowTack), tape(0, workshop.LowTack), tape(0.5, ""); a != 2 || b != 1 || c != 1 {
		t.Errorf("with tape %d needs, without %d, of no tack %d", a, b, c)
	}
	pile := []stores.Lot{{Code: "A", Kind: stores.Sheets, Item: "card", Counted: true, Free: 1}}
	if takes, short := (stores.Need{Item: "card", Kind: stores.Sheets, Amount: 1}).From(pile); len(takes) != 1 || short != 0 {
		t.Errorf("of one sheet %v are taken, short by %d", takes, short)
	}
	n := func(v int64) *int64 { return &v }
	for _, c := range []struct {
		r    stores.Result
		want stores.Amounts
	}{
		{stores.Result{Left: n(40), Spoiled: 10}, stores.Amounts{Used: 50, Spoiled: 10, Left: 40}},
		{stores.Result{Used: n(110), Spoiled: 5}, stores.Amounts{More: 15, Used: 110, Spoiled: 5}},
	} {
		if got, ok := c.r.Of(100); got != c.want || !ok {
			t.Errorf("%+v: %+v, %t", c.r, got, ok)
		}
	}
}
