package ledger_test

import (
	"errors"
	"testing"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"

	"github.com/google/uuid"
)

func (d desk) report(o ledger.Outcome) (uuid.UUID, error) {
	return d.book.Settle(d.Context(), "ann", o, nil)
}

// moved adds up what went into an account of a lot less what came out of it.
func (d desk) moved(lot, account string) (sum int64) {
	d.Helper()
	err := d.store.Pool.QueryRow(d.Context(), `select coalesce(sum(case $2 when target then amount when source then -amount else 0 end), 0)::bigint
		from movements where lot = $1`, lot, account).Scan(&sum)
	if err != nil {
		d.Fatal(err)
	}
	return sum
}

func n(v int64) *int64 { return &v }

// Handed out, reported and taken back: every mm is somewhere.
func TestOutcome(t *testing.T) {
	d := open(t)
	roll := d.receive(film, 1000)
	p := d.plan(film, 350)
	_, err := d.report(ledger.Outcome{Plan: p})
	refused(t, err, ledger.NotAccepted)
	d.mustAccept(p)
	if _, err := d.book.Issue(t.Context(), "ann", p, "the technician", "", nil); err != nil {
		t.Fatal(err)
	}
	d.stands(film, 650, 0, 350)
	_, err = d.book.Issue(t.Context(), "ann", p, "", "", nil)
	refused(t, err, ledger.AlreadyOut)
	refused(t, d.book.Free(t.Context(), "ann", p), ledger.AlreadyOut)
	_, err = d.report(ledger.Outcome{Plan: p, Results: []stores.Result{{Lot: roll, Used: n(300), Left: n(20)}}})
	refused(t, err, ledger.NotAdding)
	// 340 used and 60 spoiled are 50 more than was handed out.
	posting, err := d.report(ledger.Outcome{Plan: p, CutterS: 735, BenchS: 1432, Results: []stores.Result{{Lot: roll, Used: n(340), Spoiled: 60}}})
	if err != nil {
		t.Fatal(err)
	}
	d.stands(film, 600, 0, 0)
	if got := [2]int64{d.moved(roll, "used"), d.moved(roll, "spoiled")}; got != [2]int64{340, 60} {
		t.Errorf("used and spoiled %v", got)
	}
	_, err = d.report(ledger.Outcome{Plan: p})
	refused(t, err, ledger.AlreadyDone)
	_, err = d.accept(p)
	refused(t, err, ledger.AlreadyDone)

	if _, err := d.book.Reverse(t.Context(), posting, "", "", nil); err != nil {
		t.Fatal(err)
	}
	d.stands(film, 650, 0, 350)
	_, err = d.book.Reverse(t.Context(), posting, "", "", nil)
	refused(t, err, ledger.Reversed)
	if _, err := d.report(ledger.Outcome{Plan: p, Results: []stores.Result{{Lot: roll, Left: n(10)}}}); err != nil {
		t.Fatal(err)
	}
	d.stands(film, 660, 0, 0)
	if got := [2]int64{d.moved(roll, "used"), d.moved(roll, "spoiled")}; got != [2]int64{340, 0} {
		t.Errorf("used and spoiled %v", got)
	}
}

// What was really taken may come from another roll than the one that was held.
func TestOutcomeOfAnotherRoll(t *testing.T) {
	d := open(t)
	held, other := d.receive(film, 400), d.receive(film, 500)
	p := d.plan(film, 350)
	d.mustAccept(p)
	_, err := d.report(ledger.Outcome{Plan: p, Results: []stores.Result{{Lot: held, Used: n(0)}, {Lot: other, Used: n(501)}}})
	var short *ledger.Short
	if !errors.As(err, &short) || short.By != 1 {
		t.Errorf("%v", err)
	}
	if _, err := d.report(ledger.Outcome{Plan: p, Results: []stores.Result{{Lot: held, Used: n(0)}, {Lot: other, Used: n(360)}}}); err != nil {
		t.Fatal(err)
	}
	d.stands(film, 540, 0, 0)
	if d.moved(held, "used") != 0 || d.moved(other, "used") != 360 {
		t.Errorf("%d and %d", d.moved(held, "used"), d.moved(other, "used"))
	}
	if _, err := d.report(ledger.Outcome{Plan: p, Results: []stores.Result{{Lot: "NONE"}}}); err == nil {
		t.Error("a lot that is not there")
	}
}

// An offcut is put aside, found by its size, planned on, used, and gone; taken
// back it is there again.
func TestOffcut(t *testing.T) {
	d := open(t)
	for _, m := range machines() {
		if _, err := db.ShelfOf[any](d.store.Queries, db.Machines).Put(t.Context(), m.ID, 0, m); err != nil {
			t.Fatal(err)
		}
	}
	roll := d.receive(film, 1000)
	p := d.plan(film, 700)
	d.mustAccept(p)
	_, err := d.report(ledger.Outcome{Plan: p, Offcuts: []ledger.Piece{{Lot: roll, WidthMM: 611, LengthMM: 300}}})
	refused(t, err, ledger.WrongSize)
	made, err := d.report(ledger.Outcome{Plan: p, Offcuts: []ledger.Piece{{Lot: roll, WidthMM: 250, LengthMM: 300}, {Lot: roll, WidthMM: 610, LengthMM: 90}}})
	if err != nil {
		t.Fatal(err)
	}
	find := func(f ledger.OffcutFilter, want int) []ledger.Offcut {
		t.Helper()
		found, err := d.book.Offcuts(t.Context(), f)
		if err != nil || len(found) != want {
			t.Fatalf("%+v finds %+v, %v", f, found, err)
		}
		return found
	}
	all := find(ledger.OffcutFilter{Stock: film}, 2)
	if all[0].Offered || !all[1].Offered { // 90 mm are shorter than lead and tail, and no mat is 610 mm wide
		t.Errorf("%+v", all)
	}
	find(ledger.OffcutFilter{Family: "light_card"}, 0)
	find(ledger.OffcutFilter{WidthMM: 300, LengthMM: 251}, 0)
	one := find(ledger.OffcutFilter{WidthMM: 300, LengthMM: 250}, 1)[0]
	q, other := d.plan(one.Item, 1), d.plan(one.Item, 1)
	a := d.mustAccept(q)
	if a.Holding[0].Lot != one.Code {
		t.Errorf("%+v", a.Holding)
	}
	if _, err := d.accept(other); err == nil {
		t.Error("two plans hold one offcut")
	}
	if _, err := d.book.Reverse(t.Context(), made, "", "", nil); err == nil {
		t.Error("an offcut that is held was taken back")
	}
	used, err := d.report(ledger.Outcome{Plan: q})
	if err != nil {
		t.Fatal(err)
	}
	find(ledger.OffcutFilter{WidthMM: 200}, 1) // the one that is not offered
	if _, err := ledger.Stocks(d.store.Queries).Newest(t.Context(), one.Item); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("used up and still offered: %v", err)
	}
	if _, err := d.book.Reverse(t.Context(), used, "", "", nil); err != nil {
		t.Fatal(err)
	}
	if _, err := d.report(ledger.Outcome{Plan: q, Results: []stores.Result{{Lot: one.Code, Left: n(1)}}}); err != nil {
		t.Fatal(err)
	}
	find(ledger.OffcutFilter{WidthMM: 300, LengthMM: 250}, 1)
	if _, err := d.book.Reverse(t.Context(), made, "", "", nil); err != nil {
		t.Fatal(err)
	}
	find(ledger.OffcutFilter{}, 0)
	d.stands(film, 300, 0, 700)
}
