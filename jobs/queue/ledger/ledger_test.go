package ledger_test

import (
	"errors"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

func TestAcceptanceReserves(t *testing.T) {
	d := open(t)
	long, short := d.receive(film, 25000), d.receive(film, 400)
	a := d.mustAccept(d.plan(film, 350))
	if a.State != ledger.Held || a.TotalMinor != 1531 || a.CostCode != "4711" || len(a.Holding) != 1 || a.Holding[0].Lot != short || a.Holding[0].Reserved != 350 {
		t.Errorf("%+v", a)
	}
	if until := time.Until(a.HeldUntil); until < 71*time.Hour || until > 72*time.Hour {
		t.Errorf("held for %v, want 72 h", until)
	}
	d.stands(film, 25050, 350, 0)
	if b := d.mustAccept(d.plan(film, 51)); b.Holding[0].Lot != long {
		t.Errorf("51 mm come from %s, of which 50 are left", b.Holding[0].Lot)
	}
	if again := d.mustAccept(a.Plan); again.ID != a.ID || !again.HeldUntil.Equal(a.HeldUntil) {
		t.Errorf("accepted again: %+v", again)
	}
	for range 2 {
		if err := d.book.Free(t.Context(), "ann", a.Plan); err != nil {
			t.Fatal(err)
		}
	}
	d.stands(film, 25349, 51, 0)
	if again := d.mustAccept(a.Plan); again.ID == a.ID || again.State != ledger.Held {
		t.Errorf("accepted after it was given back: %+v", again)
	}
	if _, _, err := d.book.Accept(t.Context(), "ben", a.Plan, ledger.Booking{}, nil); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("another's plan: %v", err)
	}
}

// The time that stock is held follows the booking, and the rules where they are
// changed; a booking that is over holds nothing.
func TestHowLongStockIsHeld(t *testing.T) {
	d := open(t)
	end, over := time.Now().Add(100*time.Hour).Round(time.Second), time.Now().Add(-25*time.Hour)
	book := func(plan uuid.UUID, ends *time.Time) (*ledger.Acceptance, error) {
		a, _, err := d.book.Accept(t.Context(), "ann", plan, ledger.Booking{Reference: "bay 2", Ends: ends}, nil)
		return a, err
	}
	p := d.plan(film, 350)
	if _, err := book(p, &over); err == nil {
		t.Error("a booking that is over was taken")
	} else {
		refused(t, err, ledger.PastBooking)
	}
	if a, err := book(p, &end); err != nil || !a.HeldUntil.Equal(end.Add(24*time.Hour)) || a.BookingReference != "bay 2" {
		t.Fatalf("%+v, %v", a, err)
	}
	later := end.Add(time.Hour)
	if a, err := book(p, &later); err != nil || !a.HeldUntil.Equal(later.Add(24*time.Hour)) {
		t.Errorf("moved: %+v, %v", a, err)
	}
	if err := d.book.SetRules(t.Context(), stores.Rules{HoldH: 5, AfterBookingH: 2, WarnH: 1}, func(stores.Rules) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if a := d.mustAccept(d.plan(film, 1)); time.Until(a.HeldUntil) > 5*time.Hour || time.Until(a.HeldUntil) < 4*time.Hour {
		t.Errorf("held for %v, want 5 h", time.Until(a.HeldUntil))
	}
}

func TestAcceptanceIsRefused(t *testing.T) {
	d := open(t)
	p := d.plan(film, 350)
	for _, status := range []string{"queued", "working", "asking", "refused", "failed", "cancelled"} {
		d.set(`update plans set status = $2 where id = $1`, p, status)
		_, err := d.accept(p)
		refused(t, err, ledger.NotReady)
	}
	d.set(`update plans set status = 'ready', updated = (current_date - 15)::timestamp at time zone 'UTC' where id = $1`, p)
	_, err := d.accept(p)
	refused(t, err, ledger.QuoteExpired)
	d.set(`update plans set updated = (current_date - 13)::timestamp at time zone 'UTC' where id = $1`, p)
	d.mustAccept(p) // the fourteenth day is not over
}

// What is short says by how much and what would do instead, and holds nothing.
func TestShort(t *testing.T) {
	d := open(t)
	d.receive("card-220-a4", 3)
	d.receive("card-220-a3", 10)
	d.receive("card-160-a4", 100) // of the same material too, and as large, but lighter
	_, err := d.accept(d.plan("card-220-a4", 5))
	var short *ledger.Short
	if !errors.As(err, &short) || short.By != 2 || short.Amount != 5 || short.Nearest == nil {
		t.Fatalf("%v", err)
	}
	if short.Nearest.ID != "card-220-a3" {
		t.Errorf("nearest is %s", short.Nearest.ID)
	}
	d.receive(film, 300)
	d.receive(film, 200)
	_, err = d.accept(d.plan(film, 350))
	if !errors.As(err, &short) || short.By != 50 || short.Nearest != nil {
		t.Errorf("a run of two rolls: %v", err)
	}
	d.stands("card-220-a4", 3, 0, 0)
	d.stands(film, 500, 0, 0)
}

// Of what was never received nobody knows how much there is: accepting goes on and
// says so, but for an offcut, which is one piece.
func TestWhatIsNotCounted(t *testing.T) {
	d := open(t)
	a := d.mustAccept(d.plan(film, 350))
	if len(a.Holding) != 1 || a.Holding[0].Counted || a.Holding[0].Reserved != 350 {
		t.Errorf("%+v", a.Holding)
	}
	d.stands(film, 0, 350, 0)
	d.receive(film, 100)
	if _, err := d.accept(d.plan(film, 350)); err == nil {
		t.Error("once it is counted, what is short is accepted")
	}
	rest := workshop.Example().Stocks[0]
	rest.ID, rest.Form = "rest", workshop.Offcut
	if _, err := ledger.Stocks(d.store.Queries).Put(t.Context(), rest.ID, 0, rest); err != nil {
		t.Fatal(err)
	}
	d.mustAccept(d.plan("rest", 1))
	if _, err := d.accept(d.plan("rest", 1)); err == nil {
		t.Error("two plans hold one offcut")
	}
	d.balances()
}

// Stock lapses when its time is over and not before, once, after it was told.
func TestLapse(t *testing.T) {
	d := open(t)
	d.receive(film, 1000)
	a := d.mustAccept(d.plan(film, 350))
	lapse := func(at time.Time, wantLapsed, wantTold int) {
		t.Helper()
		if lapsed, told, err := d.book.Lapse(t.Context(), at); err != nil || lapsed != wantLapsed || told != wantTold {
			t.Errorf("%d lapsed, %d told, %v; want %d and %d", lapsed, told, err, wantLapsed, wantTold)
		}
	}
	lapse(a.HeldUntil.Add(-13*time.Hour), 0, 0)
	lapse(a.HeldUntil.Add(-11*time.Hour), 0, 1)
	lapse(a.HeldUntil.Add(-10*time.Hour), 0, 0)
	if now, err := d.book.Acceptance(t.Context(), "ann", a.Plan); err != nil || !now.LapsesSoon() {
		t.Errorf("%+v, %v", now, err)
	}
	d.stands(film, 650, 350, 0)
	lapse(a.HeldUntil, 1, 0)
	lapse(a.HeldUntil, 0, 0)
	d.stands(film, 1000, 0, 0)
	if now, err := d.book.Acceptance(t.Context(), "ann", a.Plan); err != nil || now.State != ledger.Lapsed {
		t.Errorf("%+v, %v", now, err)
	}
	// One whose time is over and that nobody has swept yet is accepted anew.
	b := d.mustAccept(a.Plan)
	d.set(`update acceptances set held_until = now() - interval '1 s' where id = $1`, b.ID)
	if c := d.mustAccept(a.Plan); c.ID == b.ID || c.State != ledger.Held {
		t.Errorf("%+v", c)
	}
	d.stands(film, 650, 350, 0)
}

// Nobody changes or removes what was posted, not even by hand.
func TestLedgerIsOnlyAddedTo(t *testing.T) {
	d := open(t)
	d.receive(film, 1000)
	for _, sql := range []string{
		`update movements set amount = amount + 1`, `delete from movements`, `update postings set cost_code = 'x'`, `delete from postings`,
	} {
		if _, err := d.store.Pool.Exec(t.Context(), sql); err == nil {
			t.Errorf("%s went through", sql)
		}
	}
	d.set(`update lots set free = free + 1`)
	if off, err := d.store.Unbalanced(t.Context()); err != nil || len(off) != 1 {
		t.Errorf("a lot that was changed by hand is not found: %v, %v", off, err)
	}
}

func TestReorderPoint(t *testing.T) {
	d := open(t)
	whatever := func(ledger.Level) error { return nil }
	d.receive(film, 1000)
	for point, low := range map[int64]bool{999: false, 1000: true} {
		if l, err := d.book.SetReorderPoint(t.Context(), film, point, whatever); err != nil || l.Low() != low {
			t.Errorf("at %d: %+v, %v", point, l, err)
		}
	}
	changed := errors.New("changed")
	if _, err := d.book.SetReorderPoint(t.Context(), film, 5, func(l ledger.Level) error {
		if l.ReorderAt == nil || *l.ReorderAt < 999 {
			t.Errorf("seen is %+v", l)
		}
		return changed
	}); !errors.Is(err, changed) {
		t.Errorf("refused by the check: %v", err)
	}
	if l, err := d.book.Level(t.Context(), film); err != nil || *l.ReorderAt == 5 {
		t.Errorf("what the check refused is set: %+v, %v", l, err)
	}
	if _, err := d.book.SetReorderPoint(t.Context(), "nothing", 1, whatever); !errors.Is(err, ledger.ErrNoItem) {
		t.Errorf("%v", err)
	}
	pile := d.receive("card-220-a4", 10)
	if again := d.receive("card-220-a4", 5); again != pile || d.level("card-220-a4").Free != 15 {
		t.Errorf("a second receipt lies on %s, the first on %s", again, pile)
	}
}

// Of two acceptances the later counts, also where its transaction began before the
// other and had to wait.
func TestTheLastAcceptanceCounts(t *testing.T) {
	d := open(t)
	d.receive(film, 1000)
	a := d.mustAccept(d.plan(film, 350))
	if err := d.book.Free(t.Context(), "ann", a.Plan); err != nil {
		t.Fatal(err)
	}
	b := d.mustAccept(a.Plan)
	d.set(`update acceptances set created = created - interval '1 h' where id = $1`, b.ID)
	if now, err := d.book.Acceptance(t.Context(), "ann", a.Plan); err != nil || now.ID != b.ID {
		t.Errorf("%+v, %v", now, err)
	}
}
