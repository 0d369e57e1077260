package queue_test

import (
	"errors"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestSeedFillsAnEmptyWorkshopOnce(t *testing.T) {
	for name, set := range map[string]func() workshop.Data{"example": workshop.Example, "neutral": workshop.Neutral} {
		t.Run(name, func(t *testing.T) {
			store, ctx := db.From(dbtest.New(t)), t.Context()
			want := set()
			want.Sheets = []workshop.NamedSize{{Name: "BOARD", ShortMM: 300, LongMM: 400}}
			for i, expected := range []error{nil, queue.ErrSeeded} {
				if err := queue.Seed(ctx, store, want); !errors.Is(err, expected) {
					t.Fatalf("seed %d: %v, want %v", i+1, err, expected)
				}
			}
			got, err := queue.Workshop(ctx, store.Queries)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, got, byID()...); diff != "" {
				t.Error(diff)
			}
			doc, err := queue.Stocks(store.Queries).Newest(ctx, want.Stocks[0].ID)
			if err != nil || doc.Version != 1 {
				t.Errorf("version %d, %v", doc.Version, err)
			}
		})
	}
}

// byID compares lists in any order: the store lists by ID.
func byID() []cmp.Option {
	return []cmp.Option{
		cmpopts.SortSlices(func(a, b workshop.Stock) bool { return a.ID < b.ID }),
		cmpopts.SortSlices(func(a, b workshop.Machine) bool { return a.ID < b.ID }),
		cmpopts.SortSlices(func(a, b workshop.Setting) bool { return a.ID < b.ID }),
	}
}

// Where one document cannot be put in, none is.
func TestSeedIsAllOrNothing(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	data := workshop.Neutral()
	data.Stocks = append(data.Stocks, data.Stocks[0])
	if err := queue.Seed(ctx, store, data); !errors.Is(err, db.ErrConflict) {
		t.Fatalf("a stock twice: %v", err)
	}
	got, err := queue.Workshop(ctx, store.Queries)
	if err != nil || !cmp.Equal(got, workshop.Data{}) {
		t.Errorf("%+v, %v", got, err)
	}
}
