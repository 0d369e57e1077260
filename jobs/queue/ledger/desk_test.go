package ledger_test

import (
	"encoding/json"
	"errors"
	"os"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }

// desk is a ledger on a database of its own, in the example workshop.
type desk struct {
	*testing.T
	store *db.DB
	book  ledger.Book
}

func open(t *testing.T) desk {
	t.Helper()
	d := desk{t, db.From(dbtest.New(t)), ledger.Book{}}
	d.book = ledger.Open(d.store)
	for _, s := range workshop.Example().Stocks {
		if _, err := ledger.Stocks(d.store.Queries).Put(t.Context(), s.ID, 0, s); err != nil {
			t.Fatal(err)
		}
	}
	return d
}

const film = "film-removable-610"

// plan adds a plan that is ready and needs so much of the roll, or so many sheets
// of another stock.
func (d desk) plan(stock string, amount int) uuid.UUID {
	d.Helper()
	drawing, err := d.store.AddDrawing(d.Context(), "ann", "sign.dxf", []byte("0\nEOF\n"))
	if err != nil {
		d.Fatal(err)
	}
	doc, err := ledger.Stocks(d.store.Queries).Newest(d.Context(), stock)
	if err != nil {
		d.Fatal(err)
	}
	u := layout.Usage{Sheets: amount}
	if doc.Doc.Form == workshop.Roll {
		u = layout.Usage{RollMM: float64(amount)}
	}
	text, err := json.Marshal(view.Plan{
		Request: view.Request{Stock: stock, Family: doc.Doc.Family, Form: doc.Doc.Form, Copies: 8}, Usage: &u,
		Estimate: &estimate.Estimate{TotalMinor: 1531, TotalText: "15.31 credit", ValidDays: 14, Basis: calibration.Basis{
			HandlingS: 360, MotionS: 600, Slower: 1, Weeding: weeding.Terms{Starts: 1, ContourM: 2, Counters: 18},
		}},
		Passes: []view.Pass{{Blade: "fine-45", CutMM: 2100.4}, {CutMM: 50}},
	})
	if err != nil {
		d.Fatal(err)
	}
	id := uuid.New()
	err = d.store.AddPlan(d.Context(), db.Plan{
		ID: id, Client: "ann", Drawing: drawing.ID, Queue: db.Batch, Status: "ready",
		Request: []byte(`{"machine": {"id": "wide-610", "blade": {"id": "fine-45", "fitted": "b12"}}, "stock": {"family": "` + string(doc.Doc.Family) + `"}}`), CostCode: "4711",
	}, text)
	if err != nil {
		d.Fatal(err)
	}
	return id
}

// receive takes goods in and returns the code of their lot.
func (d desk) receive(item string, amount int64) string {
	d.Helper()
	id, err := d.book.Receive(d.Context(), ledger.Receipt{Item: item, Amount: amount}, nil)
	if err != nil {
		d.Fatal(err)
	}
	p, err := d.book.Posting(d.Context(), id)
	if err != nil {
		d.Fatal(err)
	}
	return p.Moves[0].Lot
}

func (d desk) accept(plan uuid.UUID) (*ledger.Acceptance, error) {
	a, _, err := d.book.Accept(d.Context(), "ann", plan, ledger.Booking{}, nil)
	return a, err
}

// mustAccept is accept where nothing stands against it.
func (d desk) mustAccept(plan uuid.UUID) *ledger.Acceptance {
	d.Helper()
	a, err := d.accept(plan)
	if err != nil {
		d.Fatal(err)
	}
	return a
}

// level returns how much there is of an item.
func (d desk) level(item string) (l ledger.Level) {
	d.Helper()
	levels, err := d.book.Levels(d.Context())
	if err != nil {
		d.Fatal(err)
	}
	for _, l := range levels {
		if l.Item == item {
			return l
		}
	}
	d.Fatalf("no level of %s", item)
	return l
}

// stands holds what is free, reserved and issued of an item against what it should
// be, and the ledger against the lots.
func (d desk) stands(item string, free, reserved, issued int64) {
	d.Helper()
	if l := d.level(item); l.Free != free || l.Reserved != reserved || l.Issued != issued {
		d.Errorf("%s: free %d, reserved %d, issued %d; want %d, %d, %d", item, l.Free, l.Reserved, l.Issued, free, reserved, issued)
	}
	d.balances()
}

func (d desk) balances() {
	d.Helper()
	if off, err := d.store.Unbalanced(d.Context()); err != nil || len(off) > 0 {
		d.Errorf("lots out of balance: %v, %v", off, err)
	}
}

// refused holds an error against the code of a Refusal.
func refused(t *testing.T, err error, code string) {
	t.Helper()
	var r *ledger.Refusal
	if !errors.As(err, &r) || r.Code != code {
		t.Errorf("%v, want %s", err, code)
	}
}

// set changes a row behind the ledger's back, to let time pass.
func (d desk) set(sql string, args ...any) {
	d.Helper()
	if _, err := d.store.Pool.Exec(d.Context(), sql, args...); err != nil {
		d.Fatal(err)
	}
}
