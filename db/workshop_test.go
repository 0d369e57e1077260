package db_test

import (
	"errors"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

func TestStarterDataIsThereOnce(t *testing.T) {
	store := db.From(dbtest.New(t))
	if err := store.Migrate(t.Context()); err != nil {
		t.Fatalf("a second migration: %v", err)
	}
	got, err := store.Workshop(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := workshop.Starter()
	if len(got.Stocks) != len(want.Stocks) || len(got.Machines) != len(want.Machines) ||
		len(got.Settings) != len(want.Settings) || len(got.PriceLists) != len(want.PriceLists) {
		t.Errorf("the starter data was not put in once: %+v", got)
	}
	for _, stock := range want.Stocks {
		doc, err := store.Stocks().Newest(t.Context(), stock.ID)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(stock, doc.Doc); diff != "" || doc.Version != 1 {
			t.Errorf("%s, version %d:\n%s", stock.ID, doc.Version, diff)
		}
	}
}

func TestDocumentsKeepTheirVersions(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	sheets := store.Sheets()
	first, err := sheets.Put(ctx, "BOARD", 0, workshop.NamedSize{Name: "BOARD", ShortMM: 300, LongMM: 400})
	if err != nil || first.Version != 1 {
		t.Fatalf("first version: %+v, %v", first, err)
	}
	second, err := sheets.Put(ctx, "BOARD", 1, workshop.NamedSize{Name: "BOARD", ShortMM: 305, LongMM: 400})
	if err != nil || second.Version != 2 {
		t.Fatalf("second version: %+v, %v", second, err)
	}
	for _, after := range []int{0, 1, 3} {
		if _, err := sheets.Put(ctx, "BOARD", after, workshop.NamedSize{}); !errors.Is(err, db.ErrConflict) {
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
	if left, err := sheets.All(ctx); err != nil || len(left) != len(workshop.Starter().Sheets) {
		t.Errorf("the list after it was withdrawn: %+v, %v", left, err)
	}
}
