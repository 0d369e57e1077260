package queue_test

import (
	"context"
	"fmt"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"

	"github.com/google/go-cmp/cmp"
)

// Two plans share the jobs as far as the artwork. The first is cancelled while
// they run: what only it wanted is not computed.
func TestCancellingTrimsToWhatSomebodyWaitsFor(t *testing.T) {
	f := &fakes{}
	begun, goOn := make(chan struct{}, 10), make(chan struct{})
	f.during = func(_ context.Context, stage string) {
		if stage == "artwork" {
			begun <- struct{}{}
			<-goOn
		}
	}
	q, store := start(t, f, quick())
	first, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	<-begun
	other := request(1)
	other.Turned = []int{3}
	second, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ben", File: []byte("plain"), Request: other})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := q.Cancel(t.Context(), "ann", first.ID); err != nil {
		t.Fatal(err)
	}
	close(goOn)
	second = settled(t, q, second)
	matchesLocal(t, store, second, (&fakes{}).stages(), "plain")
	if diff := cmp.Diff(each(), f.ran()); diff != "" {
		t.Errorf("runs of both:\n%s", diff)
	}
	nothingLeft(t, store)
}

// What is expected to take long has a job of its own, and what comes before it
// is in by then.
func TestLongRunsHaveAJobOfTheirOwn(t *testing.T) {
	f := &fakes{cost: 10}
	q, store := start(t, f, quick())
	f.during = func(_ context.Context, stage string) {
		if stage != "weeding" {
			return
		}
		var results, jobs int
		row := store.Pool.QueryRow(context.Background(), `select (select count(*) from results), (select count(*) from river_job)`)
		if err := row.Scan(&results, &jobs); err != nil || results != 3 || jobs != 2 {
			t.Errorf("%d results and %d jobs, %v", results, jobs, err)
		}
	}
	matchesLocal(t, store, submit(t, q, "ann", "plain", request(1)), (&fakes{}).stages(), "plain")
	nothingLeft(t, store)
}

// A program with an older list of jobs works beside a newer one. It leaves the
// newer one's plans to it; its own come to rest too, whoever works on them.
func TestListsOfTwoRevisionsBesideEachOther(t *testing.T) {
	store := db.From(dbtest.New(t))
	older, newer := (&fakes{}).stages()[:6], (&fakes{}).stages()
	newer[3].Revision = 2
	old := startOn(t, store, older, quick())
	now := startOn(t, store, newer, quick())
	var olds, news []queue.Plan
	for i := range 6 {
		file := []byte(fmt.Sprint("plain ", i))
		p, err := now.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: file, Request: request(1)})
		if err != nil {
			t.Fatal(err)
		}
		news = append(news, p)
		if p, err = old.Submit(t.Context(), queue.SubmitParams{Client: "ben", File: file, Request: request(1)}); err != nil {
			t.Fatal(err)
		}
		olds = append(olds, p)
	}
	for i, p := range news {
		matchesLocal(t, store, settled(t, now, p), newer, fmt.Sprint("plain ", i))
	}
	for _, p := range olds {
		if p = settled(t, old, p); p.Status != plan.Ready {
			t.Errorf("plan of the older program: %s %s", p.Status, p.Failure)
		}
	}
	nothingLeft(t, store)
}
