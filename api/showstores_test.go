package api

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"
)

// What is shown of the stores is what they hold, each amount in its own member.
func TestWhatIsShownOfTheStores(t *testing.T) {
	noon := time.Date(2026, 3, 4, 12, 0, 0, 0, time.FixedZone("", 3600))
	id, other, plan := uuid.UUID{1}, uuid.UUID{2}, uuid.UUID{3}
	five := int64(5)
	lot := stores.Lot{Code: "A7", Kind: stores.Roll, Item: "film", Stock: "film", Family: "f", Batch: "b", WidthMM: 610, LengthMM: 9, Counted: true, Free: 1, Reserved: 2, Issued: 3, Created: noon}
	shownLot := Lot{Code: "A7", Kind: "roll", Item: "film", Unit: "mm", Batch: "b", WidthMM: 610, LengthMM: 9, Free: 1, Reserved: 2, Issued: 3, CreatedAt: noon.UTC()}
	posting := ledger.Posting{
		Posting: db.Posting{ID: id, Kind: "outcome", Acceptance: &plan, Reverses: &other, Stock: "s", Family: "f", CostCode: "c", PriceMinor: 120, CutterS: 90, BenchS: 100, Created: noon, ReportedBy: "r", Remark: "m"},
		Moves:   []db.Movement{{Kind: "use", Lot: "A7", Source: "issued", Target: "used", Amount: 4}},
	}
	for _, c := range []struct {
		name      string
		got, want any
	}{
		{"a level", showLevel(ledger.Level{Item: "film", Name: "Film", Kind: stores.Roll, Counted: true, Free: 5, Reserved: 2, Issued: 3, ReorderAt: &five, Lots: []stores.Lot{lot}}),
			Level{Item: "film", Name: "Film", Kind: "roll", Unit: "mm", Counted: true, Free: 5, Reserved: 2, Issued: 3, ReorderAt: &five, Low: true, Lots: []Lot{shownLot}}},
		{"a posting", showPosting(posting), Posting{
			ID: id, Kind: "outcome", AcceptanceID: &plan, Reverses: &other, StockID: "s", Family: "f", CostCode: "c", PriceMinor: 120, CutterMin: 1.5, BenchMin: 1.67,
			CreatedAt: noon.UTC(), ReportedBy: "r", Remark: "m", Movements: []Movement{{Kind: "use", Lot: "A7", From: "issued", To: "used", Amount: 4}},
		}},
		{"an acceptance", showAcceptance(ledger.Acceptance{
			Acceptance: db.Acceptance{ID: id, Plan: plan, TotalMinor: 7, TotalText: "0.07", PriceUntil: noon, HeldUntil: noon.Add(time.Hour), Warned: true, BookingReference: "b", BookingEnds: &noon, CostCode: "c", Created: noon.Add(1), Updated: noon.Add(2)},
			State:      ledger.Held, Holding: []db.Holding{{Lot: "A7", Kind: "sheets", Item: "i", Counted: true, Reserved: 2, Issued: 3}},
		}), Acceptance{
			ID: id, PlanID: plan, State: "held", LapsesSoon: true, TotalMinor: 7, TotalText: "0.07", PriceUntil: noon.UTC(), HeldUntil: noon.Add(time.Hour).UTC(),
			BookingReference: "b", BookingEnds: ptr(noon.UTC()), CostCode: "c", CreatedAt: noon.Add(1).UTC(), UpdatedAt: noon.Add(2).UTC(),
			Holding: []Holding{{Lot: "A7", Item: "i", Kind: "sheets", Amount: 5, Unit: "sheets", Counted: true}},
		}},
		{"a row of the report", showStoresRow(ledger.Row{
			StoresAmounts: db.StoresAmounts{Period: "2026", Stock: "s", Family: "f", CostCode: "c", Kind: "offcut", Received: 1, Quoted: 2, Used: 3, Spoiled: 4, Returned: 5, Offcuts: 6},
			Work:          db.StoresWork{Plans: 7, CutterS: 60, BenchS: 90, PriceMinor: 8},
		}), StoresRow{Period: "2026", StockID: "s", Family: "f", CostCode: "c", Kind: "offcut", Unit: "pieces", Received: 1, Quoted: 2, Used: 3, Spoiled: 4, Returned: 5, Offcuts: 6, Plans: 7, CutterMin: 1, BenchMin: 1.5, PriceMinor: 8}},
		{"the rules", showStoreRules(stores.Rules{HoldH: 1, AfterBookingH: 2, WarnH: 3, LeastRollerMM: 4}), StoreRules{HoldH: 1, AfterBookingH: 2, WarnH: 3, LeastRollerMM: 4}},
		{"what was reported", readOutcome(Outcome{PlanID: plan, CutterMin: 1.5, BenchMin: 0.26, ReportedBy: "r", Remark: "m", Lots: []LotResult{{Lot: "A7", Used: ptr(int64(1)), Spoiled: 2, Left: ptr(int64(3))}}, Offcuts: []OffcutMade{{Lot: "A7", WidthMM: 4, LengthMM: 5}}, SpoiledPieces: []SpoiledPiece{{Copy: 6, Piece: 7, Reason: "torn"}}}),
			ledger.Outcome{Plan: plan, CutterS: 90, BenchS: 16, ReportedBy: "r", Remark: "m", Results: []stores.Result{{Lot: "A7", Used: ptr(int64(1)), Spoiled: 2, Left: ptr(int64(3))}}, Offcuts: []ledger.Piece{{Lot: "A7", WidthMM: 4, LengthMM: 5}}, Pieces: []db.SpoiledPiece{{Copy: 6, Piece: 7, Reason: "torn"}}}},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Errorf("%s (+ is what is shown):\n%s", c.name, diff)
		}
	}
}

// An offcut is free, reserved or issued, and bears a stock to plan on only where
// it is offered.
func TestOffcutsAreShown(t *testing.T) {
	lot := stores.Lot{Code: "A8", Kind: stores.Offcut, Item: "offcut-A8", Stock: "card", Family: "fam", WidthMM: 200, LengthMM: 300}
	for _, c := range []struct {
		reserved, issued int64
		offered          bool
		state            OffcutState
	}{{0, 0, true, "free"}, {1, 0, true, "reserved"}, {0, 1, false, "issued"}} {
		lot.Reserved, lot.Issued = c.reserved, c.issued
		want := Offcut{Code: "A8", FromStockID: "card", Family: "fam", WidthMM: 200, LengthMM: 300, State: c.state, CreatedAt: lot.Created.UTC()}
		if c.offered {
			want.StockID, want.Hold = "offcut-A8", "mat"
		}
		if diff := cmp.Diff(want, showOffcut(ledger.Offcut{Lot: lot, Stock: workshop.Stock{Hold: workshop.Mat}, Offered: c.offered})); diff != "" {
			t.Error(diff)
		}
	}
}

// The table of the report has the members of each row under their names, and no
// text that a spreadsheet takes for a formula (=, +, -, @: what spreadsheets
// begin formulas with).
func TestReportAsATable(t *testing.T) {
	rows := []StoresRow{*full[StoresRow](), {CostCode: "=1+1"}, {CostCode: "@a"}, {CostCode: "a=b"}}
	text := csvOf(rows)
	if strings.Count(text, "\r\n") != len(rows)+1 {
		t.Errorf("lines do not end as RFC 4180 has it: %q", text)
	}
	table, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	members := generic(t, rows[0]).(map[string]any)
	if len(table[0]) != len(members) {
		t.Errorf("%d columns, and %d members", len(table[0]), len(members))
	}
	for i, name := range table[0] {
		want := fmt.Sprint(members[name])
		if strings.HasSuffix(name, "_min") {
			want = fmt.Sprintf("%.2f", members[name])
		}
		if table[1][i] != want {
			t.Errorf("%s is %q, want %q", name, table[1][i], want)
		}
		if name == "cost_code" && (table[2][i] != "'=1+1" || table[3][i] != "'@a" || table[4][i] != "a=b") {
			t.Errorf("codes are %q, %q and %q", table[2][i], table[3][i], table[4][i])
		}
	}
}

// The summary for a shell says how the acceptance stands, until when, and what is
// held.
func TestAcceptanceInTheSummary(t *testing.T) {
	until := time.Date(2026, 3, 4, 12, 30, 0, 0, time.UTC)
	for state, want := range map[ledger.State]string{
		ledger.Held: "until 2026-03-04 12:30 UTC", ledger.Lapsed: "no more: the stock was held until 2026-03-04 12:30 UTC", ledger.Freed: "no more: the stock was given back",
		ledger.Issued: "the stock is handed out", ledger.Closed: "it is reported what was used",
	} {
		a := &ledger.Acceptance{State: state, Acceptance: db.Acceptance{HeldUntil: until, TotalText: "5.00"}, Holding: []db.Holding{{Lot: "A7", Kind: "sheets", Reserved: 2, Issued: 1, Counted: true}, {Lot: "A8", Kind: "tape", Reserved: 400}}}
		want := "accepted   " + want + ", at 5.00\nheld       3 sheets, A7\nheld       400 mm of tape, A8 (not counted: nothing was ever received of it)\n"
		if got := a.Text(); got != want {
			t.Errorf("%s is told as\n%s, want\n%s", state, got, want)
		}
	}
	if got := (*ledger.Acceptance)(nil).Text(); got != "" {
		t.Errorf("without an acceptance it says %q", got)
	}
}
