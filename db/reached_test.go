package db_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// addResults keeps results of 10, 20, 30 … bytes under keys.
func addResults(t *testing.T, store *db.DB, keys ...string) {
	t.Helper()
	for i, key := range keys {
		r := db.Result{Head: db.Head{Key: key, Stage: "read", Outcome: []byte(`{}`), Digest: []byte(`{}`)}, Body: make([]byte, 10*(i+1))}
		if err := store.AddResults(t.Context(), r); err != nil {
			t.Fatal(err)
		}
	}
}

// there lists what results are kept.
func there(t *testing.T, store *db.DB) (keys []string) {
	t.Helper()
	for _, key := range []string{"a", "b", "c", "d", "e"} {
		if rows, err := store.Results(t.Context(), key); err != nil {
			t.Fatal(err)
		} else if len(rows) == 1 {
			keys = append(keys, key)
		}
	}
	return keys
}

// What nobody reaches goes, once it is old: results of a plan and of a group of a class
// set stay, and of an erased plan those that another has too.
func TestWhatIsReachedStays(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	addResults(t, store, "a", "b", "c", "d", "e")
	for _, c := range []struct {
		keys         []string
		file, result int64
	}{{[]string{"a"}, 0, 10}, {[]string{"b", "d"}, 0, 60}, {nil, 0, 0}, {[]string{"none"}, 0, 0}} {
		if file, result, err := store.StoredBytes(ctx, nil, c.keys...); err != nil || file != c.file || result != c.result {
			t.Errorf("%v are %d bytes of %d, want %d of %d, %v", c.keys, result, file, c.result, c.file, err)
		}
	}
	ann, ben := addPlan(t, store, "ann", ""), addPlan(t, store, "ben", "")
	if file, _, err := store.StoredBytes(ctx, ann.Hash); err != nil || file != int64(len("0\nEOF\n")) {
		t.Errorf("the drawing has %d bytes, %v", file, err)
	}
	stage := `insert into plan_stages (plan, stage, place, key, state) values ($1, $2, $3, $4, 'done')`
	b.run(stage, ann.ID, "read", 0, "a")
	b.run(stage, ann.ID, "size", 1, "b")
	b.run(`insert into plan_stages (plan, stage, place, state) values ($1, 'artwork', 2, 'waiting')`, ann.ID)
	b.run(`insert into former_keys (plan, key) values ($1, 'd')`, ann.ID)
	b.run(stage, ben.ID, "read", 0, "a")
	b.run(`with s as (insert into class_sets (client, terms) values ('ann', '{}') returning id)
		insert into class_groups (class_set, place, request, keys, status) select id, 0, '{}', '{x,c}', 'ready' from s`)
	unreached := func(age time.Duration, limit int) []string {
		t.Helper()
		keys, err := store.Unreached(ctx, age, limit)
		if err != nil {
			t.Fatal(err)
		}
		return keys
	}
	b.run(`update results set created = now() - interval '2 hours' where key <> 'e'`)
	if got := unreached(time.Hour, 9); !slices.Equal(got, []string{"d"}) {
		t.Errorf("an hour old and reached by nothing: %v, want d", got)
	}
	if got := fmt.Sprint(unreached(0, 9), unreached(0, 1)); got != "[d e] [d]" {
		t.Errorf("reached by nothing: %v", got)
	}
	var keys []string
	if err := store.InTx(ctx, func(tx db.Tx) (err error) {
		keys, err = tx.ErasePlan(ctx, ann.ID)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	slices.Sort(keys)
	if diff := cmp.Diff([]string{"a", "b", "d"}, keys); diff != "" {
		t.Errorf("the keys of the erased plan:\n%s", diff)
	}
	if _, err := store.PlanStanding(ctx, "ben", ben.ID); err != nil {
		t.Errorf("the other plan: %v", err)
	}
	if err := store.InTx(ctx, func(tx db.Tx) error {
		gone, err := tx.EraseResults(ctx, append(keys, "c")...)
		if gone != 2 {
			t.Errorf("%d results are erased, want b and d", gone)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if got := there(t, store); !slices.Equal(got, []string{"a", "c", "e"}) {
		t.Errorf("%v are left, want a, c and e", got)
	}
}

// A plan that takes a result while it is being erased keeps it: who erases waits for
// it. Nor does a plan that waits find what was just erased.
func TestErasingResultsWaitsForWhoTakesThem(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	addResults(t, store, "a")
	p := addPlan(t, store, "ann", "")
	erased := make(chan error, 1)
	err := store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.Raw.Exec(ctx, `select from results where key = 'a' for key share`); err != nil {
			return err
		}
		go func() {
			erased <- store.InTx(context.WithoutCancel(ctx), func(tx db.Tx) error {
				_, err := tx.EraseResults(ctx, "a")
				return err
			})
		}()
		for waits := false; !waits; {
			select {
			case err := <-erased:
				t.Fatalf("erasing did not wait: %v", err)
			case <-time.After(time.Millisecond):
			}
			if err := tx.Raw.QueryRow(ctx, `select exists (select from pg_locks where not granted and pg_backend_pid() = any(pg_blocking_pids(pid)))`).Scan(&waits); err != nil {
				return err
			}
		}
		_, err := tx.Raw.Exec(ctx, `insert into plan_stages (plan, stage, place, key, state) values ($1, 'read', 0, 'a', 'done')`, p.ID)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := <-erased; err != nil {
		t.Fatal(err)
	}
	if got := there(t, store); !slices.Equal(got, []string{"a"}) {
		t.Errorf("%v is left of what a plan has", got)
	}
}

// A new token sweeps out those that nobody can use any more, and no other: one that was
// spent in time is used as long as its session lasts.
func TestTokensThatCanBeUsedStay(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	add := func(expires time.Duration) db.Token {
		t.Helper()
		tok := db.Token{ID: uuid.New(), Owner: "ann", Hash: make([]byte, 32), Expires: time.Now().Add(expires), Session: time.Hour}
		if err := store.AddToken(ctx, tok); err != nil {
			t.Fatal(err)
		}
		return tok
	}
	all := map[string]db.Token{"open": add(time.Hour), "expired": add(time.Hour), "in use": add(time.Hour), "used up": add(time.Hour), "used before its end": add(time.Hour)}
	for name, set := range map[string]string{
		"expired":             `expires = now() - interval '1 minute'`,
		"in use":              `expires = now() - interval '1 minute', until = now() + interval '1 minute'`,
		"used up":             `expires = now() - interval '2 minutes', until = now() - interval '1 minute'`,
		"used before its end": `until = now() - interval '1 minute'`,
	} {
		b.run(`update tokens set `+set+` where id = $1`, all[name].ID)
	}
	add(time.Minute)
	for name, want := range map[string]bool{"open": true, "expired": false, "in use": true, "used up": false, "used before its end": true} {
		if _, err := store.Token(ctx, all[name].ID); (err == nil) != want {
			t.Errorf("%s: kept %v, want %v", name, err == nil, want)
		}
	}
}
