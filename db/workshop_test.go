package db_test

import (
	"errors"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// board is a document of these tests; what one holds is the caller's choice.
type board struct{ ShortMM float64 }

func TestDocumentsKeepTheirVersions(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	sheets := db.ShelfOf[board](store.Queries, db.Sheets)
	first, err := sheets.Put(ctx, "BOARD", 0, board{300})
	if err != nil || first.Version != 1 {
		t.Fatalf("first version: %+v, %v", first, err)
	}
	second, err := sheets.Put(ctx, "BOARD", 1, board{305})
	if err != nil || second.Version != 2 {
		t.Fatalf("second version: %+v, %v", second, err)
	}
	for _, after := range []int{0, 1, 3} {
		if _, err := sheets.Put(ctx, "BOARD", after, board{}); !errors.Is(err, db.ErrConflict) {
			t.Errorf("a change after version %d: %v, want a conflict", after, err)
		}
	}
	if old, err := sheets.Version(ctx, "BOARD", 1); err != nil || old.Doc.ShortMM != 300 {
		t.Errorf("version 1: %+v, %v", old, err)
	}
	if err := sheets.Withdraw(ctx, "BOARD", 2); err != nil {
		t.Fatal(err)
	}
	if _, err := sheets.Newest(ctx, "BOARD"); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("a withdrawn document: %v", err)
	}
	if left, err := sheets.All(ctx); err != nil || len(left) != 0 {
		t.Errorf("the list after it was withdrawn: %+v, %v", left, err)
	}
}

// A migrated database holds nothing until somebody puts it in, and a document
// of any table ends that, a withdrawn one too.
func TestVacantSeesEveryTable(t *testing.T) {
	ctx := t.Context()
	for _, table := range []db.Table{db.Stocks, db.Machines, db.Settings, db.Conventions, db.PriceLists, db.Sheets} {
		store := db.From(dbtest.New(t))
		if err := store.Migrate(ctx); err != nil {
			t.Fatalf("a second migration: %v", err)
		}
		vacant := func() (v bool) {
			err := store.InTx(ctx, func(tx db.Tx) (err error) { v, err = tx.Vacant(ctx); return err })
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		if !vacant() {
			t.Fatal("a new database holds data")
		}
		shelf := db.ShelfOf[board](store.Queries, table)
		if _, err := shelf.Put(ctx, "x", 0, board{}); err != nil {
			t.Fatal(err)
		}
		if vacant() {
			t.Errorf("a document of %s is overlooked", table)
		}
		if err := shelf.Withdraw(ctx, "x", 1); err != nil {
			t.Fatal(err)
		}
		if vacant() {
			t.Errorf("a withdrawn document of %s is overlooked", table)
		}
	}
}

// Nobody adds a document between the look and the end of the transaction.
func TestVacantKeepsOthersOut(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	sheets := db.ShelfOf[board](store.Queries, db.Sheets)
	added := make(chan error, 1)
	err := store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.Vacant(ctx); err != nil {
			return err
		}
		go func() { _, err := sheets.Put(ctx, "BOARD", 0, board{}); added <- err }()
		select {
		case err := <-added:
			t.Errorf("another added a document meanwhile: %v", err)
		case <-time.After(200 * time.Millisecond):
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := <-added; err != nil {
		t.Errorf("afterwards: %v", err)
	}
}
