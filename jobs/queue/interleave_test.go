package queue_test

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"sync"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/queue/webhook"
	"knifedesk/jobs/workshop"
)

// hands are all that people may do to one plan, each at any time.
type hands struct {
	t     *testing.T
	q     *queue.Queue
	book  ledger.Book
	store *db.DB
	rows  []*jobs.Row
	first queue.Plan
	file  string
	ask   ask.Question

	mu                         sync.Mutex
	changes                    []change // that were granted
	recuts                     []queue.Plan
	accepted, cancelled, erase int // how often each was granted
}

// change is an answer that was granted, or taken back, and the revision that the plan
// has by it: of an answer that was given already the one that it has.
type change struct {
	revision  int
	answer    string
	takenBack bool
}

// altered keeps a change that was granted.
func (h *hands) altered(p queue.Plan, err error, answer string) {
	h.did(err, new(int))
	if err == nil {
		h.mu.Lock()
		defer h.mu.Unlock()
		h.changes = append(h.changes, change{p.Revision, answer, answer == ""})
	}
}

// did counts what was granted; a refusal that is documented counts as nothing.
func (h *hands) did(err error, count *int) {
	var refusal *ledger.Refusal
	var reply *queue.ReplyError
	switch {
	case err == nil:
		h.mu.Lock()
		defer h.mu.Unlock()
		*count++
	case errors.Is(err, db.ErrNotFound), errors.Is(err, queue.ErrState), errors.Is(err, queue.ErrAccepted), errors.As(err, &refusal), errors.As(err, &reply):
	default:
		h.t.Errorf("%v", err)
	}
}

// act does one thing, and then the same again in one of three cases: a client that has
// lost the answer does.
func (h *hands) act(rnd *rand.Rand) {
	ctx, id, nothing := h.t.Context(), h.first.ID, 0
	var do func()
	switch n := rnd.IntN(46); {
	case n >= 40:
		do = func() {
			p, err := h.q.Submit(ctx, queue.SubmitParams{Client: "ann", Drawing: h.first.Drawing, Request: h.request(), RecutOf: &id})
			h.did(err, &nothing)
			if err == nil {
				h.mu.Lock()
				defer h.mu.Unlock()
				h.recuts = append(h.recuts, p)
			}
		}
	case n < 12:
		answer := h.ask.Answers[rnd.IntN(len(h.ask.Answers))].ID
		do = func() {
			p, err := h.q.Answer(ctx, "ann", id, queue.Reply{Question: h.ask.ID, Answer: answer, Author: "ann"})
			h.altered(p, err, answer)
		}
	case n < 18:
		do = func() { p, err := h.q.TakeBack(ctx, "ann", id, h.ask.ID, "ann"); h.altered(p, err, "") }
	case n < 28:
		do = func() { _, _, err := h.book.Accept(ctx, "ann", id, ledger.Booking{}, nil); h.did(err, &h.accepted) }
	case n < 34:
		do = func() { h.did(h.book.Free(ctx, "ann", id), &nothing) }
	case n < 36:
		do = func() {
			_, err := h.q.Submit(ctx, queue.SubmitParams{Client: "ben", File: []byte(h.file), Request: h.request()})
			h.did(err, &nothing)
		}
	case n < 38:
		do = func() {
			p, err := h.q.Cancel(ctx, "ann", id)
			if err == nil && p.Status != plan.Cancelled {
				return // it was settled before, and stays
			}
			h.did(err, &h.cancelled)
		}
	case n < 39:
		_, _ = h.q.Wait(ctx, "ann", id) // so that the next finds it settled
		return
	default:
		do = func() { h.did(h.q.Erase(ctx, "ann", id), &h.erase) }
	}
	do()
	if rnd.IntN(3) == 0 {
		do()
	}
}

// keptAsGranted holds that each change that was granted is in the history under the
// revision that it was told, and no other.
func (h *hands) keptAsGranted(seed uint64, past []db.Reply) {
	told := map[int]bool{}
	for _, c := range h.changes {
		told[c.revision] = true
		if at := c.revision - 2; at < 0 || at >= len(past) || past[at].TakenBack != c.takenBack || !c.takenBack && past[at].Answer != c.answer {
			h.t.Errorf("seed %d: %+v was granted, and kept %+v", seed, c, past)
		}
	}
	if len(told) != len(past) {
		h.t.Errorf("seed %d: %d changes were granted and %d kept", seed, len(told), len(past))
	}
}

func (h *hands) request() plan.Request {
	r, err := jobs.NewList().Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}})
	if err != nil {
		h.t.Fatal(err)
	}
	return *r
}

// Answers, answers taken back, acceptances, giving back, cancelling, erasing, recuts, equal
// plans and all of these sent twice meet on one plan in any order: what is left is what
// some order of those that were granted leaves. Each seed is another order.
func TestOneOutcomeWhateverTheOrder(t *testing.T) {
	store := db.From(dbtest.New(t))
	rows := jobs.NewList().Rows
	if err := queue.Seed(t.Context(), store, workshop.Example()); err != nil {
		t.Fatal(err)
	}
	// The times of answers, acceptances and messages are those of their transactions' beginnings;
	// here they are to be those of the changes, which hold the plan.
	for _, table := range []string{"replies", "acceptances", "deliveries"} {
		run(t, store, `create or replace function on_the_spot() returns trigger language plpgsql as 'begin new.created = clock_timestamp(); return new; end'`)
		run(t, store, `create trigger on_the_spot before insert on `+table+` for each row execute function on_the_spot()`)
	}
	cfg := quick()
	cfg.Tries = 1 // of messages, for a receiver that nobody reaches
	q := startOn(t, store, rows, cfg)
	book := q.Book()
	if _, err := store.AddWebhook(t.Context(), db.Webhook{URL: "http://192.0.2.1/", Secret: webhook.NewSecret()}); err != nil {
		t.Fatal(err)
	}
	if _, err := book.Receive(t.Context(), ledger.Receipt{Item: "film-removable-610", Amount: 25000}, nil); err != nil {
		t.Fatal(err)
	}
	ends, accepted, recuts := map[plan.Status]int{}, 0, 0
	for seed := range uint64(16) {
		h := &hands{t: t, q: q, book: book, store: store, rows: rows, file: fmt.Sprintf(foldedSign+"<!--%d-->", seed%2)}
		h.first = submit(t, q, "ann", h.file, h.request())
		h.ask = h.asked()
		var all sync.WaitGroup
		for n := range 4 {
			all.Go(func() {
				rnd := rand.New(rand.NewPCG(seed, uint64(n)))
				for range 3 {
					h.act(rnd)
				}
			})
		}
		all.Wait()
		ends[h.check(seed)]++
		accepted, recuts = accepted+h.accepted, recuts+len(h.recuts)
	}
	t.Logf("how the plans ended: %v; accepted %d times, cut again %d times", ends, accepted, recuts)
	if accepted < 5 || recuts < 3 || len(ends) < 3 {
		t.Error("too little was granted to tell anything")
	}
	h := &hands{t: t, store: store}
	h.balanced()
	nothingLeft(t, store)
}

// asked is the question that the plan asks first.
func (h *hands) asked() ask.Question {
	h.t.Helper()
	v, err := h.q.View(h.t.Context(), "ann", h.first.ID)
	if err != nil || len(v.Plan.Questions) == 0 {
		h.t.Fatalf("%s asks nothing, %v", h.first.Status, err)
	}
	return v.Plan.Questions[0]
}

// check holds what is left of the plan against what was granted.
func (h *hands) check(seed uint64) plan.Status {
	h.t.Helper()
	ctx := h.t.Context()
	now, err := h.store.Plan(ctx, "ann", h.first.ID)
	if (h.erase > 0) != errors.Is(err, db.ErrNotFound) || h.erase > 1 {
		h.t.Fatalf("seed %d: erased %d times, and then: %v", seed, h.erase, err)
	}
	for _, r := range h.recuts { // which goes on, whatever becomes of the plan
		again, err := h.store.Plan(ctx, "ann", r.ID)
		if err != nil || (again.RecutOf == nil) != (h.erase > 0) {
			h.t.Errorf("seed %d: a recut is of %v, where the plan was erased %d times, %v", seed, again.RecutOf, h.erase, err)
		}
		matchesLocal(h.t, h.store, settled(h.t, h.q, r), h.rows, h.file)
	}
	if h.erase > 0 {
		h.gone(seed)
		return "erased"
	}
	p := settled(h.t, h.q, h.first)
	past, err := h.store.Replies(ctx, p.ID)
	if err != nil {
		h.t.Fatal(err)
	}
	given := ask.Replies{}
	for i, r := range past {
		if r.Revision != i+2 {
			h.t.Errorf("seed %d: answer %d made revision %d", seed, i, r.Revision)
		}
		given[r.Question] = ask.Reply{Answer: r.Answer}
		if r.TakenBack {
			delete(given, r.Question)
		}
	}
	if got := stored(h.t, h.store, p).Replies; !maps.Equal(given, got) && len(given)+len(got) > 0 {
		h.t.Errorf("seed %d: the changes come to %v; the request has %v", seed, given, got)
	}
	h.keptAsGranted(seed, past)
	if now, err = h.store.Plan(ctx, "ann", p.ID); err != nil || now.Revision != 1+len(past) {
		h.t.Errorf("seed %d: revision %d after %d changes, %v", seed, now.Revision, len(past), err)
	}
	if (h.cancelled > 0) != (p.Status == plan.Cancelled) {
		h.t.Errorf("seed %d: cancelled %d times, and is %s", seed, h.cancelled, p.Status)
	}
	h.heldAsAccepted(seed, p)
	h.toldAsItIs(seed, p)
	if p.Status != plan.Cancelled {
		matchesLocal(h.t, h.store, p, h.rows, h.file)
	}
	return p.Status
}

// heldAsAccepted checks that a plan for which stock is held is the one whose price
// was taken: nothing was changed of it since.
func (h *hands) heldAsAccepted(seed uint64, p queue.Plan) {
	h.t.Helper()
	a, err := ledger.Of(h.t.Context(), h.store.Queries, p.ID)
	if err != nil || !a.Binds() {
		if err != nil {
			h.t.Error(err)
		}
		return
	}
	var after int
	err = h.store.Pool.QueryRow(h.t.Context(), `select count(*) from replies where plan = $1 and created > $2`, p.ID, a.Created).Scan(&after)
	if err != nil || after > 0 || p.Status != plan.Ready {
		h.t.Errorf("seed %d: stock is held for a plan that is %s and was changed %d times since, %v", seed, p.Status, after, err)
	}
}

// toldAsItIs checks that receivers are told of each acceptance once, and last of how
// the plan stands.
func (h *hands) toldAsItIs(seed uint64, p queue.Plan) {
	h.t.Helper()
	var made, freed, toldMade, toldFreed int
	var last string
	err := h.store.Pool.QueryRow(h.t.Context(), `
		select (select count(*) from acceptances where plan = $1), (select count(*) from acceptances where plan = $1 and state = 'freed'),
			count(*) filter (where event = 'acceptance.made'), count(*) filter (where event = 'acceptance.released'),
			(array_agg(event order by created desc) filter (where event like 'plan.%' and event <> 'plan.durations_changed'))[1]
		from deliveries where plan = $1`, p.ID).Scan(&made, &freed, &toldMade, &toldFreed, &last)
	if err != nil || made != toldMade || freed != toldFreed || last != "plan."+string(p.Status) {
		h.t.Errorf("seed %d: %d accepted and %d given back, told of %d and %d; it is %s and %s was told last, %v", seed, made, freed, toldMade, toldFreed, p.Status, last, err)
	}
}

// gone checks that nothing is left of an erased plan.
func (h *hands) gone(seed uint64) {
	h.t.Helper()
	for table, column := range map[string]string{"plan_stages": "plan", "replies": "plan", "waiters": "plan", "acceptances": "plan", "deliveries": "plan"} {
		var n int
		if err := h.store.Pool.QueryRow(h.t.Context(), "select count(*) from "+table+" where "+column+" = $1", h.first.ID).Scan(&n); err != nil || n > 0 {
			h.t.Errorf("seed %d: %d rows are left in %s, %v", seed, n, table, err)
		}
	}
}

// balanced checks the ledger, and that what is reserved is what acceptances hold.
func (h *hands) balanced() {
	h.t.Helper()
	wrong, err := h.store.Unbalanced(h.t.Context())
	if err != nil || len(wrong) > 0 {
		h.t.Errorf("the ledger does not balance: %v, %v", wrong, err)
	}
	var held, live bool
	err = h.store.Pool.QueryRow(h.t.Context(), `select
		(select coalesce(sum(reserved), 0) from lots) > 0, exists (select from acceptances where state = 'held')`).Scan(&held, &live)
	if err != nil || held != live {
		h.t.Errorf("something is reserved: %v; something is accepted: %v; %v", held, live, err)
	}
}
