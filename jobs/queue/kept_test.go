package queue_test

import (
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// What is kept of the workshop is what it holds, after every change.
func TestKeptFollowsTheWorkshop(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	kept := queue.Keep(store)
	follows := func(after string) {
		t.Helper()
		for range 2 {
			got, err := kept.Data(ctx)
			if err != nil {
				t.Fatal(err)
			}
			want, err := queue.Workshop(ctx, store.Queries)
			if diff := cmp.Diff(want, got); err != nil || diff != "" {
				t.Errorf("after %s: %v %s", after, err, diff)
			}
			_ = append(got.Stocks, workshop.Stock{}) // is nobody else's
		}
	}
	follows("nothing")
	if err := queue.Seed(ctx, store, workshop.Example()); err != nil {
		t.Fatal(err)
	}
	follows("the first data")
	stocks := queue.Stocks(store.Queries)
	doc, err := stocks.Newest(ctx, workshop.Example().Stocks[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	doc.Doc.Name += " (new)"
	if _, err := stocks.Put(ctx, doc.ID, doc.Version, doc.Doc); err != nil {
		t.Fatal(err)
	}
	follows("another name")
	if err := stocks.Withdraw(ctx, doc.ID, doc.Version+1); err != nil {
		t.Fatal(err)
	}
	follows("a withdrawal")
}
