package db_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/uuid"
)

// What a set is erased in the order of: the oldest plan of a member first, so that a newer one
// still leads to what is left where it ends halfway.
func TestPlansOfASetFromTheOldest(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	ctx := t.Context()
	set, err := b.store.AddClassSet(ctx, db.ClassSet{Client: "ann", Terms: []byte(`{}`)})
	if err != nil {
		t.Fatal(err)
	}
	var made []uuid.UUID
	for n := range 6 {
		p := addPlan(t, b.store, "ann", "")
		b.run(`update plans set created = now() - make_interval(days => $2) where id = $1`, p.ID, 6-n)
		if n > 0 {
			b.run(`update plans set supersedes = $2 where id = $1`, p.ID, made[n-1])
		}
		made = append(made, p.ID)
	}
	if err := b.store.PutClassMember(ctx, db.ClassMember{Set: set.ID, Reference: "a", Plan: made[5]}); err != nil {
		t.Fatal(err)
	}
	if got, err := b.store.ClassHistory(ctx, set.ID); err != nil || !slices.Equal(got, made) {
		t.Errorf("%v, want %v, %v", got, made, err)
	}
}

// Class sets are erased by their client, their reference, or their age, and by that only
// where nothing in them has changed since, moves or holds stock. With one the others stay,
// and so does what was answered about them; of who asks for none nothing goes.
func TestClassSetsToErase(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	names, ids := map[uuid.UUID]string{}, map[string]uuid.UUID{}
	for _, c := range []struct{ name, client, reference, age, status, planAge, held string }{
		{"empty", "ann", "", "400 days", "", "", ""}, {"settled", "ann", "course", "400 days", "ready", "400 days", ""},
		{"young", "ann", "course", "1 day", "ready", "400 days", ""}, {"a young plan", "ann", "", "400 days", "ready", "1 day", ""},
		{"moves", "ann", "", "400 days", "working", "400 days", ""}, {"held", "ann", "", "400 days", "ready", "400 days", "held"},
		{"handed out", "ann", "", "400 days", "ready", "400 days", "issued"}, {"lapsed", "ann", "", "400 days", "ready", "400 days", "lapsed"},
		{"another's", "ben", "course", "400 days", "ready", "400 days", ""},
	} {
		var id uuid.UUID
		if err := store.Pool.QueryRow(ctx, `insert into class_sets (client, client_reference, terms) values ($1, $2, '{}') returning id`, c.client, c.reference).Scan(&id); err != nil {
			t.Fatal(err)
		}
		names[id], ids[c.name] = c.name, id
		if c.status != "" {
			p := addPlan(t, store, c.client, "")
			if err := store.PutClassMember(ctx, db.ClassMember{Set: id, Reference: "a", Plan: p.ID}); err != nil {
				t.Fatal(err)
			}
			if c.held != "" {
				b.run(`insert into acceptances (plan, state, total_minor, total_text, price_until, held_until) values ($1, $2, 0, '', now(), now())`, p.ID, c.held)
			}
			b.run(`update plans set status = $2, updated = now() - $3::text::interval where id = $1`, p.ID, c.status, c.planAge)
		}
		b.run(`update class_sets set updated = now() - $2::text::interval where id = $1`, id, c.age)
		b.run(`insert into idempotency (client, key, request_hash, status, headers, body) values ('ann', $1, sha256('x'), 200, '{}', convert_to($2, 'UTF8'))`, c.name, id.String())
	}
	yearAgo := time.Now().AddDate(-1, 0, 0)
	for _, c := range []struct {
		erase db.Erasable
		want  []string
	}{
		{db.Erasable{Client: "ann", Before: yearAgo}, []string{"empty", "lapsed", "settled"}},
		{db.Erasable{Client: db.AnyClient, Before: yearAgo}, []string{"another's", "empty", "lapsed", "settled"}},
		{db.Erasable{Client: "ann", Reference: "course", Before: yearAgo}, []string{"settled"}},
		{db.Erasable{Client: "ann", Reference: "course"}, []string{"settled", "young"}},
		{db.Erasable{Client: "ben"}, []string{"another's"}}, {db.Erasable{Client: "nobody"}, nil},
	} {
		found, err := store.ErasableClassSets(ctx, c.erase)
		var got []string
		for _, id := range found {
			got = append(got, names[id])
		}
		if slices.Sort(got); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%+v: %q, want %q, %v", c.erase, got, c.want, err)
		}
	}
	erase := func(id uuid.UUID) error {
		return store.InTx(ctx, func(tx db.Tx) error { return tx.EraseClassSet(ctx, id) })
	}
	if err := erase(ids["settled"]); err != nil {
		t.Fatal(err)
	}
	if err := erase(ids["settled"]); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("what is gone is erased: %v", err)
	}
	for name, id := range ids {
		want := 1
		if name == "settled" {
			want = 0
		}
		if n := b.count(`select count(*) from class_sets where id = $1`, id); n != want {
			t.Errorf("%s: %d sets", name, n)
		}
		if n := b.count(`select count(*) from idempotency where key = $1`, name); n != want {
			t.Errorf("%s: %d answers", name, n)
		}
	}
	if n := b.count(`select count(*) from erasures where what = $1 and which = $2`, db.ErasedClassSet, ids["settled"].String()); n != 1 {
		t.Errorf("that it was erased is noted %d times", n)
	}
}

// A receiver that is dropped is gone with what it was told; the others stay.
func TestDroppedReceiverIsGoneAlone(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	var hooks []uuid.UUID
	for range 3 {
		w, err := store.AddWebhook(ctx, db.Webhook{URL: "https://booking.example.org/", Secret: []byte("s")})
		if err != nil {
			t.Fatal(err)
		}
		hooks = append(hooks, w.ID)
	}
	p := addPlan(t, store, "ann", "")
	if _, err := store.AddDeliveries(ctx, p.ID, "ann", "plan.ready", "{}"); err != nil {
		t.Fatal(err)
	}
	if err := store.DropWebhook(ctx, hooks[1]); err != nil {
		t.Fatal(err)
	}
	if err := store.DropWebhook(ctx, hooks[1]); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("what is gone is dropped: %v", err)
	}
	for i, want := range []int{1, 0, 1} {
		if _, err := store.Webhook(ctx, hooks[i]); (err == nil) != (want == 1) {
			t.Errorf("receiver %d: %v", i, err)
		}
		if n := b.count(`select count(*) from deliveries where webhook = $1`, hooks[i]); n != want {
			t.Errorf("receiver %d was told %d times", i, n)
		}
	}
}
