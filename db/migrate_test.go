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
