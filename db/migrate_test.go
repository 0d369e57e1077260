package db_test

import (
	"context"
	"sync"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// Programs that start on an empty database at the same moment each find the schema
// whole, and make it once.
func TestMigratingAtOnce(t *testing.T) {
	pool := dbtest.New(t)
	if _, err := pool.Exec(t.Context(), `drop schema public cascade; create schema public`); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			store, err := db.Open(context.Background(), dbtest.URL(pool))
			if err != nil {
				t.Error(err)
				return
			}
			defer store.Close()
			if err := store.Migrate(context.Background()); err != nil {
				t.Error(err)
			}
			known, err := db.Schema()
			if now, errNow := store.Standing(context.Background()); err != nil || errNow != nil || now.Schema != known {
				t.Errorf("schema %d of %d, %v, %v", now.Schema, known, err, errNow)
			}
			if err := store.CheckRiver(context.Background()); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	var twice int
	if err := pool.QueryRow(t.Context(), `select count(*) - count(distinct version_id) from goose_db_version`).Scan(&twice); err != nil || twice != 0 {
		t.Errorf("%d steps were made twice, %v", twice, err)
	}
}

// References that were kept with their accents apart are found by the form in which they
// are looked for now. Where a set has a name in both forms, each stays.
func TestReferencesComeIntoOneForm(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	ctx := t.Context()
	const one, apart = "\u00e9ve", "e\u0301ve"
	p, q, other := addPlan(t, b.store, "ann", apart), addPlan(t, b.store, "ann", apart), addPlan(t, b.store, "ann", one)
	for set, members := range map[string]map[string]db.Plan{"alone": {apart: p}, "both": {apart: q, one: other}} {
		s, err := b.store.AddClassSet(ctx, db.ClassSet{Client: "ann", ClientReference: set + apart, Terms: []byte(`{}`)})
		if err != nil {
			t.Fatal(err)
		}
		for reference, of := range members {
			b.run(`insert into class_members (class_set, reference, plan) values ($1, $2, $3)`, s.ID, reference, of.ID)
			b.run(`insert into class_roster (class_set, reference) values ($1, $2)`, s.ID, reference)
		}
	}
	b.run(`delete from goose_db_version where version_id = 25`)
	if err := b.store.Migrate(ctx); err != nil {
		t.Fatal(err)
	}
	for query, want := range map[string]int{
		`select count(*) from plans where client_reference = $1`:                            3,
		`select count(*) from class_sets where client_reference like '%' || $1`:             2,
		`select count(*) from class_members where reference = $1`:                           2,
		`select count(*) from class_roster where reference = $1`:                            2,
		`select count(*) from class_members where reference is not normalized and $1 <> ''`: 1,
	} {
		var n int
		if err := b.store.Pool.QueryRow(ctx, query, one).Scan(&n); err != nil || n != want {
			t.Errorf("%s: %d, want %d, %v", query, n, want, err)
		}
	}
}
