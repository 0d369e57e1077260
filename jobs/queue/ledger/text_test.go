package ledger_test

import (
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
)

// A summary tells how the price stands that was taken, and what is held for it; of a plan
// that was never accepted it tells nothing.
func TestTextOfAnAcceptance(t *testing.T) {
	until := time.Date(2026, 3, 2, 10, 30, 0, 0, time.FixedZone("", 3600))
	for state, want := range map[ledger.State]string{
		ledger.Held: "until 2026-03-02 09:30 UTC", ledger.Lapsed: "no more: the stock was held until 2026-03-02 09:30 UTC", ledger.Freed: "no more: the stock was given back",
		ledger.Issued: "the stock is handed out", ledger.Closed: "it is reported what was used",
	} {
		a := &ledger.Acceptance{State: state, Acceptance: db.Acceptance{HeldUntil: until, TotalText: "15.31 credit"}}
		want = "accepted   " + want + ", at 15.31 credit\n"
		if got := a.Text(); got != want {
			t.Errorf("%s is told as %q, want %q", state, got, want)
		}
		a.Holding = []db.Holding{
			{Lot: "A7K2", Kind: "roll", Counted: true, Reserved: 300, Issued: 50}, {Lot: "B3", Kind: "sheets", Counted: true, Issued: 1}, {Lot: "tape-low", Kind: "tape", Reserved: 40},
		}
		want += "held       350 mm of roll, A7K2\nheld       1 sheet, B3\nheld       40 mm of tape, tape-low (not counted: nothing was ever received of it)\n"
		if got := a.Text(); got != want {
			t.Errorf("%s is told as %q, want %q", state, got, want)
		}
	}
	if got := (*ledger.Acceptance)(nil).Text(); got != "" {
		t.Errorf("without one it is told %q", got)
	}
}
