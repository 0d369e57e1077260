package ledger_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgconn"
)

func machines() []workshop.Machine { return workshop.Example().Machines }

// expected says whether an error is one that two at the same thing lead to.
func expected(err error) bool {
	var r *ledger.Refusal
	var s *ledger.Short
	return err == nil || errors.As(err, &r) || errors.As(err, &s)
}

// outage says whether an error came of a connection that was cut: the server says
// so (class 57 of its codes), or says nothing.
func outage(err error) bool {
	var pg *pgconn.PgError
	return !errors.As(err, &pg) || strings.HasPrefix(pg.Code, "57")
}

// erase removes a plan as the queue does.
func (d desk) erase(plan uuid.UUID) error {
	return d.store.InTx(d.Context(), func(tx db.Tx) error {
		if _, err := tx.LockPlan(d.Context(), plan); err != nil {
			return err
		}
		if err := ledger.Forget(d.Context(), tx, plan); err != nil {
			return err
		}
		_, err := tx.ErasePlan(d.Context(), plan)
		return err
	})
}

// A thousand acceptances, issues, returns and expiries at once against one roll,
// while connections are cut in the middle of transactions: whatever was said to
// have happened is in the ledger, nothing else is, and it balances to the mm.
func TestThousandAtOnce(t *testing.T) {
	d := open(t)
	const length = 40000
	roll := d.receive(film, length)
	plans := make([]uuid.UUID, 100)
	for i := range plans {
		plans[i] = d.plan(film, 300+i)
	}
	var cut atomic.Int64
	ctx, stop := context.WithCancel(t.Context())
	var killer sync.WaitGroup
	killer.Go(func() { cutConnections(ctx, d, &cut) })
	var all sync.WaitGroup
	for i := range 1000 {
		all.Go(func() {
			r := rand.New(rand.NewPCG(7, uint64(i)))
			if err := d.anything(plans[r.IntN(len(plans))], roll, r); !expected(err) && !outage(err) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	stop()
	killer.Wait()
	t.Logf("%d connections were cut", cut.Load())
	l := d.level(film)
	if sum := l.Free + l.Reserved + l.Issued + d.moved(roll, "used") + d.moved(roll, "spoiled"); sum != length || d.moved(roll, "outside") != -length {
		t.Errorf("%d mm of %d", sum, length)
	}
	d.balances()
	// What each plan holds is what its state says.
	var held int64
	for i, p := range plans {
		a, err := d.book.Acceptance(t.Context(), "ann", p)
		if err != nil {
			t.Fatal(err)
		}
		if a == nil {
			continue
		}
		want := map[ledger.State][2]int64{ledger.Held: {int64(300 + i), 0}, ledger.Issued: {0, int64(300 + i)}}[a.State]
		var got [2]int64
		for _, h := range a.Holding {
			got[0] += h.Reserved
			got[1] += h.Issued
		}
		if got != want {
			t.Errorf("plan %d is %s and holds %v, want %v", i, a.State, got, want)
		}
		held += got[0] + got[1]
	}
	if held != l.Reserved+l.Issued {
		t.Errorf("the plans hold %d mm, the roll says %d", held, l.Reserved+l.Issued)
	}
}

// anything does one of the things that may happen to a plan.
func (d desk) anything(plan uuid.UUID, roll string, r *rand.Rand) error {
	ctx := d.Context()
	switch r.IntN(6) {
	case 0, 1:
		_, err := d.accept(plan)
		return err
	case 2:
		return d.book.Free(ctx, "ann", plan)
	case 3:
		_, err := d.book.Issue(ctx, "ann", plan, "", "", nil)
		return err
	case 4:
		_, err := d.report(ledger.Outcome{Plan: plan, Results: []stores.Result{{Lot: roll, Used: n(int64(r.IntN(300))), Spoiled: int64(r.IntN(20))}}})
		return err
	}
	if r.IntN(20) > 0 {
		_, _, err := d.book.Lapse(ctx, time.Now())
		return err
	}
	_, _, err := d.book.Lapse(ctx, time.Now().Add(80*time.Hour)) // all that is held is over
	return err
}

// cutConnections ends connections that are in a transaction, as the death of their
// process would.
func cutConnections(ctx context.Context, d desk, cut *atomic.Int64) {
	for ctx.Err() == nil {
		var n int64
		err := d.store.Pool.QueryRow(ctx, `select count(*) filter (where pg_terminate_backend(pid)) from (
			select pid from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid() and xact_start is not null
			order by random() limit 1) one`).Scan(&n)
		if err == nil {
			cut.Add(n)
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// Fifty plans want one offcut at once: one gets it.
func TestOneOffcutForOnePlan(t *testing.T) {
	d := open(t)
	rest := workshop.Example().Stocks[0]
	rest.ID, rest.Form = "rest", workshop.Offcut
	if _, err := ledger.Stocks(d.store.Queries).Put(t.Context(), rest.ID, 0, rest); err != nil {
		t.Fatal(err)
	}
	var took atomic.Int64
	var all sync.WaitGroup
	for range 50 {
		p := d.plan("rest", 1)
		all.Go(func() {
			if _, err := d.accept(p); err == nil {
				took.Add(1)
			} else if !expected(err) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if took.Load() != 1 {
		t.Errorf("%d plans hold the offcut", took.Load())
	}
	d.balances()
}

// Acceptance, giving back and erasing meet on one plan in any order: it is erased,
// nothing is held for it any more, and what was moved is in the ledger without a
// name.
func TestErasingWhatIsAccepted(t *testing.T) {
	d := open(t)
	roll := d.receive(film, 100000)
	var all sync.WaitGroup
	for range 40 {
		p := d.plan(film, 350)
		for _, do := range []func() error{
			func() error { _, err := d.accept(p); return err },
			func() error { return d.book.Free(t.Context(), "ann", p) },
			func() error { return d.erase(p) },
			func() error { _, err := d.accept(p); return err },
		} {
			all.Go(func() {
				if err := do(); !expected(err) && !errors.Is(err, db.ErrNotFound) {
					t.Error(err)
				}
			})
		}
	}
	all.Wait()
	d.stands(film, 100000, 0, 0)

	p := d.plan(film, 350)
	d.mustAccept(p)
	if _, err := d.book.Issue(t.Context(), "ann", p, "ann example", "", nil); err != nil {
		t.Fatal(err)
	}
	refused(t, d.erase(p), ledger.AlreadyOut)
	if _, err := d.report(ledger.Outcome{Plan: p, ReportedBy: "ann example", Remark: "ann example's sign", CutterS: 60}); err != nil {
		t.Fatal(err)
	}
	if err := d.erase(p); err != nil {
		t.Fatal(err)
	}
	if at := dbtest.Holding(t, d.store.Pool, []byte("ann example")); len(at) > 0 {
		t.Errorf("the name is left in %v", at)
	}
	// The id stands on the list by which the plan is erased again after a restore.
	if at := dbtest.Holding(t, d.store.Pool, []byte(p.String())); !slices.Equal(at, []string{"public.erasures"}) {
		t.Errorf("the plan is left in %v", at)
	}
	if d.moved(roll, "used") != 350 {
		t.Errorf("%d mm used are left in the ledger", d.moved(roll, "used"))
	}
	d.stands(film, 99650, 0, 0)
}
