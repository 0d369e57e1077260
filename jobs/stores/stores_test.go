package stores_test

import (
	"slices"
	"testing"
	"time"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// By hand: a run is rounded up to whole mm, and noise is no mm.
func TestNeeds(t *testing.T) {
	for _, c := range []struct {
		form workshop.Form
		u    layout.Usage
		want []stores.Need
	}{
		{workshop.Sheet, layout.Usage{Sheets: 4}, []stores.Need{{"x", stores.Sheets, 4}}},
		{workshop.Offcut, layout.Usage{Sheets: 1}, []stores.Need{{"x", stores.Offcut, 1}}},
		{workshop.Roll, layout.Usage{RollMM: 350.0000000001}, []stores.Need{{"x", stores.Roll, 350}}},
		{workshop.Roll, layout.Usage{RollMM: 350.01, TapeM: 1.2005, TapeTack: workshop.MediumTack}, []stores.Need{{"x", stores.Roll, 351}, {"tape-medium", stores.Tape, 1201}}},
	} {
		if diff := cmp.Diff(c.want, stores.Needs("x", c.form, c.u)); diff != "" {
			t.Error(diff)
		}
	}
}

func TestFrom(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 1, n, 0, 0, 0, 0, time.UTC) }
	roll := func(code string, free int64) stores.Lot {
		return stores.Lot{Code: code, Kind: stores.Roll, Item: "film", Counted: true, Free: free}
	}
	pile := func(code string, free int64, d int) stores.Lot {
		return stores.Lot{Code: code, Kind: stores.Sheets, Item: "card", Counted: true, Free: free, Created: day(d)}
	}
	for _, c := range []struct {
		name  string
		need  stores.Need
		lots  []stores.Lot
		takes []stores.Take
		short int64
	}{
		{"the shortest that is long enough", stores.Need{Item: "film", Kind: stores.Roll, Amount: 300},
			[]stores.Lot{roll("A", 900), roll("B", 300), roll("C", 299)}, []stores.Take{{"B", 300}}, 0},
		{"never of two rolls", stores.Need{Item: "film", Kind: stores.Roll, Amount: 301}, []stores.Lot{roll("B", 300), roll("C", 299)}, nil, 1},
		{"the oldest sheets first", stores.Need{Item: "card", Kind: stores.Sheets, Amount: 5},
			[]stores.Lot{pile("A", 9, 2), pile("B", 3, 1)}, []stores.Take{{"B", 3}, {"A", 2}}, 0},
		{"short of sheets", stores.Need{Item: "card", Kind: stores.Sheets, Amount: 13}, []stores.Lot{pile("A", 9, 2), pile("B", 3, 1)}, nil, 1},
		{"never received", stores.Need{Item: "film", Kind: stores.Roll, Amount: 300}, []stores.Lot{pile("A", 9, 1)}, []stores.Take{{"film", 300}}, 0},
		{"nothing", stores.Need{Item: "film", Kind: stores.Roll}, nil, nil, 0},
	} {
		takes, short := c.need.From(slices.Clone(c.lots))
		if diff := cmp.Diff(c.takes, takes); diff != "" || short != c.short {
			t.Errorf("%s: short by %d, want %d; %s", c.name, short, c.short, diff)
		}
	}
}

func TestQuoteUntil(t *testing.T) {
	late := time.Date(2026, 12, 31, 23, 30, 0, 0, time.FixedZone("", -3600)) // in UTC the first of January
	if got := stores.QuoteUntil(late, 14).Format(time.RFC3339); got != "2027-01-16T00:00:00Z" {
		t.Errorf("until %s", got)
	}
}

// An offcut is offered where something holds it: in the rollers where two reach it
// and it is longer than lead and tail, else on a mat that carries it.
func TestStockOf(t *testing.T) {
	data := workshop.Example()
	film, _ := data.Stock("film-removable-610") // lead and tail 50, lanes 20 mm
	card, _ := data.Stock("card-220-a4")
	rules := stores.Rules{LeastRollerMM: 100}
	for _, c := range []struct {
		of            workshop.Stock
		width, length int64
		offered       bool
		hold          workshop.Hold
	}{
		{film, 610, 150, true, workshop.Rollers},
		{film, 610, 149, false, workshop.Mat}, // no mat is 610 mm wide
		{film, 300, 149, true, workshop.Mat},
		{film, 99, 400, true, workshop.Mat}, // two rollers do not reach it
		{film, 99, 431, false, workshop.Mat},
		{film, 100, 431, true, workshop.Rollers},
		{film, 59, 100, false, workshop.Mat}, // 49 mm to cut in
		{card, 210, 150, true, workshop.Mat},
	} {
		s, offered := rules.StockOf("K7M2", c.of, c.width, c.length, data.Machines)
		if offered != c.offered || s.Hold != c.hold || s.ID != "offcut-k7m2" || s.Form != workshop.Offcut || s.UsableWidthMM >= s.WidthMM {
			t.Errorf("%d × %d of %s: offered %v, %+v", c.width, c.length, c.of.ID, offered, s)
		}
	}
}

func TestNearest(t *testing.T) {
	data := workshop.Example()
	want, _ := data.Stock("card-220-a4")
	need := stores.Need{Item: want.ID, Kind: stores.Sheets, Amount: 5}
	lot := func(item string, free int64) stores.Lot {
		return stores.Lot{Code: item, Item: item, Kind: stores.Sheets, Counted: true, Free: free}
	}
	if _, ok := stores.Nearest(want, need, data.Stocks, []stores.Lot{lot("card-220-a3", 4), lot("card-160-a3", 50)}); ok {
		t.Error("too few, or another material, is called near")
	}
	if s, ok := stores.Nearest(want, need, data.Stocks, []stores.Lot{lot("card-220-a3", 5)}); !ok || s.ID != "card-220-a3" {
		t.Errorf("%v, %v", s.ID, ok)
	}
	large, _ := data.Stock("card-220-a3")
	if s, ok := stores.Nearest(large, stores.Need{Item: large.ID, Kind: stores.Sheets, Amount: 5}, data.Stocks, []stores.Lot{lot("card-220-a4", 50)}); ok {
		t.Errorf("%s is too small", s.ID)
	}
	if _, ok := stores.Nearest(want, need, data.Stocks, nil); ok {
		t.Error("nobody knows how much there is, and yet it is called near")
	}
}

func TestResult(t *testing.T) {
	n := func(v int64) *int64 { return &v }
	for _, c := range []struct {
		r    stores.Result
		want stores.Amounts
		ok   bool
	}{
		{stores.Result{}, stores.Amounts{Used: 100}, true},
		{stores.Result{Spoiled: 30}, stores.Amounts{Used: 70, Spoiled: 30}, true},
		{stores.Result{Spoiled: 130}, stores.Amounts{More: 30, Spoiled: 130}, true},
		{stores.Result{Used: n(60), Spoiled: 10}, stores.Amounts{Used: 60, Spoiled: 10, Left: 30}, true},
		{stores.Result{Left: n(40)}, stores.Amounts{Used: 60, Left: 40}, true},
		{stores.Result{Left: n(101)}, stores.Amounts{Used: -1, Left: 101}, false},
		{stores.Result{Used: n(90), Left: n(20)}, stores.Amounts{More: 10, Used: 90, Left: 20}, true},
		{stores.Result{Used: n(70), Left: n(20)}, stores.Amounts{More: -10, Used: 70, Left: 20}, false},
	} {
		got, ok := c.r.Of(100)
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%+v: %+v, %v", c.r, got, ok)
		}
	}
}
