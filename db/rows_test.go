package db_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// Receivers are told of the plans of their owner, or of all, and of the events that they
// asked for, and no more once they were stopped. What they still wait for is not
// forgotten however old it is, and one has not another's sent again.
func TestReceiversAreToldWhatIsTheirs(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	var hooks []db.Webhook
	for _, w := range []db.Webhook{{Owner: "ann"}, {Owner: "ben"}, {}, {Owner: "ann", Events: []string{"plan.failed"}}, {Owner: "ann"}} {
		w.URL, w.Secret = "https://booking.example.org/", []byte("s")
		w, err := store.AddWebhook(ctx, w)
		if err != nil {
			t.Fatal(err)
		}
		hooks = append(hooks, w)
	}
	if err := store.StopWebhook(ctx, hooks[4].ID); err != nil {
		t.Fatal(err)
	}
	p := addPlan(t, store, "ann", "")
	for _, event := range []string{"plan.ready", "plan.failed"} {
		if _, err := store.AddDeliveries(ctx, p.ID, "ann", event, "{}"); err != nil {
			t.Fatal(err)
		}
	}
	told := func(state string, before *db.Cursor) (events [][]string) {
		t.Helper()
		for _, w := range hooks {
			list, err := store.Deliveries(ctx, w.ID, state, before, 10)
			if err != nil {
				t.Fatal(err)
			}
			of := []string{}
			for _, d := range list {
				of = append(of, d.Event)
			}
			events = append(events, of)
		}
		return events
	}
	all := [][]string{{"plan.failed", "plan.ready"}, {}, {"plan.failed", "plan.ready"}, {"plan.failed"}, {}}
	if diff := cmp.Diff(all, told("", nil)); diff != "" {
		t.Errorf("the receivers are told of, the newest first:\n%s", diff)
	}
	list, err := store.Deliveries(ctx, hooks[0].ID, "", nil, 1)
	if err != nil || len(list) != 1 {
		t.Fatal(list, err)
	}
	first := list[0]
	if diff := cmp.Diff([]string{"plan.ready"}, told("", &db.Cursor{Created: first.Created, ID: first.ID})[0]); diff != "" {
		t.Errorf("the page after the first:\n%s", diff)
	}
	if _, err := store.Resend(ctx, hooks[2].ID, first.ID); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("a receiver has another's sent again: %v", err)
	}
	first.State, first.Attempts = "delivered", 3
	if err := store.Tried(ctx, first); err != nil {
		t.Fatal(err)
	}
	if got := told("delivered", nil); len(got[0]) != 1 || len(got[2]) != 0 {
		t.Errorf("delivered: %v", got)
	}
	if n, err := store.ForgetDeliveries(ctx, time.Now().Add(-time.Hour)); err != nil || n != 0 {
		t.Errorf("%d that were delivered this minute are forgotten, %v", n, err)
	}
	if n, err := store.ForgetDeliveries(ctx, time.Now().Add(time.Hour)); err != nil || n != 1 {
		t.Errorf("%d are forgotten, want 1, which was delivered, %v", n, err)
	}
}

// What is erased by its age is settled and old, holds no stock and is in no class set,
// and of the client that is meant; without an age it is all of the client's.
func TestErasedByAge(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	var set uuid.UUID
	if err := store.Pool.QueryRow(ctx, `insert into class_sets (client, terms) values ('ann', '{}') returning id`).Scan(&set); err != nil {
		t.Fatal(err)
	}
	accepted := func(state string) string {
		return `insert into acceptances (plan, state, total_minor, total_text, price_until, held_until) values ($1, '` + state + `', 0, '', now(), now())`
	}
	names, ids := map[uuid.UUID]string{}, []string{}
	for _, c := range []struct{ name, client, reference, status, also string }{
		{"ready", "ann", "group 1", "ready", ""}, {"asking", "ann", "", "asking", ""}, {"another's", "ben", "", "ready", ""},
		{"working", "ann", "", "working", ""}, {"queued", "ann", "", "queued", ""},
		{"held", "ann", "", "ready", accepted("held")}, {"issued", "ann", "", "ready", accepted("issued")}, {"lapsed", "ann", "", "ready", accepted("lapsed")},
		{"member", "ann", "", "ready", `insert into class_members (class_set, reference, plan) values ('` + set.String() + `', 'a', $1)`},
		{"young", "ann", "", "ready", ""},
	} {
		p := addPlan(t, store, c.client, c.reference)
		names[p.ID], ids = c.name, append(ids, c.name)
		age := "400 days"
		if c.name == "young" {
			age = "1 day"
		}
		if c.also != "" {
			b.run(c.also, p.ID)
		}
		b.run(`update plans set status = $2, updated = now() - $3::text::interval where id = $1`, p.ID, c.status, age)
	}
	yearAgo := time.Now().AddDate(-1, 0, 0)
	for _, c := range []struct {
		erase db.Erasable
		want  []string
	}{
		{db.Erasable{Client: "ann", Before: yearAgo}, []string{"ready", "asking", "lapsed"}},
		{db.Erasable{Client: db.AnyClient, Before: yearAgo}, []string{"ready", "asking", "another's", "lapsed"}},
		{db.Erasable{Client: "ann", Reference: "group 1"}, []string{"ready"}},
		{db.Erasable{Client: "ben"}, []string{"another's"}},
		{db.Erasable{Client: db.AnyClient}, ids},
	} {
		got, err := store.ErasablePlans(ctx, c.erase)
		if err != nil {
			t.Fatal(err)
		}
		var erased []string
		for _, id := range got {
			erased = append(erased, names[id])
		}
		if diff := cmp.Diff(c.want, erased); diff != "" {
			t.Errorf("%+v:\n%s", c.erase, diff)
		}
	}
}

// A key that was revoked is not made anew, and a token that was spent not spent again.
func TestWhatIsOverStaysSo(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	sum := func(text string) []byte { s := sha256.Sum256([]byte(text)); return s[:] }
	key, err := store.AddKey(ctx, db.Key{ID: uuid.New(), Owner: "ann", Scopes: []string{"submit"}, Hash: sum("one")})
	if err != nil {
		t.Fatal(err)
	}
	token := db.Token{ID: uuid.New(), Key: &key.ID, Owner: "ann", Hash: sum("token"), Expires: time.Now().Add(time.Hour), Session: time.Hour}
	if err := store.AddToken(ctx, token); err != nil {
		t.Fatal(err)
	}
	p := addPlan(t, store, "ann", "")
	other, err := store.AddDrawing(ctx, "ann", "other.dxf", []byte("another"))
	if err != nil {
		t.Fatal(err)
	}
	spend := func(drawing uuid.UUID) error {
		return store.InTx(ctx, func(tx db.Tx) error { return tx.SpendToken(ctx, token.ID, drawing) })
	}
	if err := spend(p.Drawing); err != nil {
		t.Fatal(err)
	}
	if err := spend(other.ID); !errors.Is(err, db.ErrSpent) {
		t.Errorf("a token is spent twice: %v", err)
	}
	if got, err := store.Token(ctx, token.ID); err != nil || got.Drawing == nil || *got.Drawing != p.Drawing || got.Revoked {
		t.Errorf("%+v, %v", got, err)
	}
	if err := store.RevokeKey(ctx, key.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := store.RotateKey(ctx, key.ID, sum("two"), time.Hour); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("a revoked key is made anew: %v", err)
	}
	if got, err := store.Token(ctx, token.ID); err != nil || !got.Revoked {
		t.Errorf("the token of a revoked key: %+v, %v", got, err)
	}
}

// A first key is made where none with its scope can be used: others, revoked and expired
// ones do not count.
func TestFirstKeyIsTheOnlyOne(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	b := backlog{t, store}
	past, later := time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	add := func(n byte, scope string, until *time.Time) db.Key {
		t.Helper()
		k, err := store.AddKey(ctx, db.Key{ID: uuid.New(), Owner: "ann", Scopes: []string{"read", scope}, Hash: bytes.Repeat([]byte{n}, 32), Expires: until})
		if err != nil {
			t.Fatal(err)
		}
		return k
	}
	add(1, "submit", nil)
	add(2, "manage", &past)
	if err := store.RevokeKey(ctx, add(3, "manage", nil).ID); err != nil {
		t.Fatal(err)
	}
	first := db.Key{ID: uuid.New(), Owner: "bay", Scopes: []string{"manage"}, Hash: bytes.Repeat([]byte{9}, 32)}
	if got, err := store.AddFirstKey(ctx, first, "manage"); err != nil || got.ID != first.ID || got.Owner != "bay" {
		t.Fatalf("%+v, %v", got, err)
	}
	for _, until := range []*time.Time{nil, &later} { // who has it can let others in
		b.run(`update keys set expires = $1 where id = $2`, until, first.ID)
		second := db.Key{ID: uuid.New(), Owner: "ben", Scopes: []string{"manage"}, Hash: bytes.Repeat([]byte{8}, 32)}
		if _, err := store.AddFirstKey(ctx, second, "manage"); !errors.Is(err, db.ErrConflict) {
			t.Errorf("until %v: a second first key: %v", until, err)
		}
		if _, err := store.Key(ctx, second.ID); !errors.Is(err, db.ErrNotFound) {
			t.Errorf("until %v: it is kept: %v", until, err)
		}
	}
}

// Test cuts are listed of one stock on one machine, the oldest first, without those that
// were withdrawn.
func TestTrialsOfAStock(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	var want []uuid.UUID
	for i, c := range []db.Trial{{Stock: "card", Machine: "m"}, {Stock: "card", Machine: "m"}, {Stock: "film", Machine: "m"}, {Stock: "card", Machine: "n"}, {Stock: "card", Machine: "m"}} {
		c.Setting, c.Doc = "s", []byte(`{}`)
		added, err := store.AddTrial(ctx, c)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 || i == 4 {
			want = append(want, added.ID)
		}
		if i == 1 {
			if err := store.WithdrawTrial(ctx, added.ID); err != nil {
				t.Fatal(err)
			}
		}
	}
	list, err := store.Trials(ctx, "card", "m")
	if err != nil {
		t.Fatal(err)
	}
	var got []uuid.UUID
	for _, c := range list {
		got = append(got, c.ID)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// What lapses is what is held up to the time, the longest due first; of what was warned of
// already it is warned no more.
func TestWhatLapses(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	names := map[uuid.UUID]string{}
	for _, c := range []struct {
		name, state, in string
		warned          bool
	}{
		{"soon", "held", "10 minutes", false}, {"warned", "held", "5 minutes", true}, {"sooner", "held", "1 minute", false},
		{"later", "held", "3 hours", false}, {"issued", "issued", "1 minute", false}, {"closed", "closed", "1 minute", false},
	} {
		p := addPlan(t, b.store, "ann", "")
		names[p.ID] = c.name
		b.run(`insert into acceptances (plan, state, total_minor, total_text, price_until, held_until, warned) values ($1, $2, 0, '', now(), now() + $3::text::interval, $4)`, p.ID, c.state, c.in, c.warned)
	}
	for _, c := range []struct {
		warn  bool
		limit int
		want  []string
	}{{false, 10, []string{"sooner", "warned", "soon"}}, {true, 10, []string{"sooner", "soon"}}, {false, 1, []string{"sooner"}}} {
		due, err := b.store.DueAcceptances(t.Context(), time.Now().Add(time.Hour), c.warn, c.limit)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, id := range due {
			got = append(got, names[id])
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("to warn %v:\n%s", c.warn, diff)
		}
	}
}
