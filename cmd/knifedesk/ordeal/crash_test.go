package ordeal

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"net/http"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// The size of the crash suite. By itself it is a short form for CI.
var (
	crashPlans    = flag.Int("plans", 20, "plans of the crash suite")
	crashClients  = flag.Int("clients", 6, "clients that send them")
	crashKills    = flag.Int("kills", 3, "times that a worker or the API is killed")
	crashRestarts = flag.Int("restarts", 1, "times that Postgres is restarted, every second time as by a crash")
	crashSeed     = flag.Uint64("seed", 1, "seed of what is sent and of when what is killed")
)

// Workers and API are killed and Postgres is restarted at random moments while many
// clients send plans: fresh ones, equal ones, such as ask and are answered, such as are
// cancelled or accepted, such as supersede others, layered ones, and class sets. Nothing of what was promised is lost or doubled, and the
// results are those of an undisturbed run. One piece of work survives the death of its
// worker four times (queue.Config.Losses); more, and its plans would fail.
func TestCrash(t *testing.T) {
	s := open(t)
	store := s.store()
	told := newReceiver(t)
	manage := s.key(store, "workshop", "manage")
	s.serve(2, "--webhooks-private", "--workers=2")
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Minute+time.Duration(*crashPlans)*time.Second)
	defer cancel()
	staff := caller{s.url, manage, &http.Client{}}
	body := fmt.Appendf(nil, `{"url": %q}`, told.URL)
	if status, answer, err := staff.send(ctx, request{method: "POST", path: "/v1/webhooks", kind: "application/json", body: body}); err != nil || status != http.StatusCreated {
		t.Fatalf("%d %s, %v", status, answer, err)
	}
	receive(ctx, t, staff)

	var done atomic.Bool
	var sent atomic.Int64
	var chaos sync.WaitGroup
	people := make([]*person, *crashClients)
	var all sync.WaitGroup
	for n := range people {
		owner := fmt.Sprint("client-", n)
		people[n] = &person{
			caller: caller{s.url, s.key(store, owner, "submit", "read"), &http.Client{}}, t: t, owner: owner,
			rnd: rand.New(rand.NewPCG(*crashSeed, uint64(n+1))),
		}
	}
	chaos.Go(func() { s.torment(rand.New(rand.NewPCG(*crashSeed, 0))); done.Store(true) }) // all have their keys
	for _, p := range people {
		all.Go(func() {
			for sent.Add(1) <= int64(*crashPlans) || !done.Load() {
				p.sendOne(ctx)
			}
		})
	}
	all.Wait()
	chaos.Wait()
	began := time.Now()
	for _, p := range people {
		p.settleAll(ctx)
	}
	t.Logf("all settled %v after the last kill", time.Since(began).Round(time.Millisecond))
	check{t, s, store, told}.everything(ctx, people)
}

// receive puts stock on the shelf, so that acceptances hold something.
func receive(ctx context.Context, t *testing.T, staff caller) {
	t.Helper()
	body := []byte(`{"item": "card-220-a4", "amount": 100000}`)
	if status, answer, err := staff.send(ctx, request{method: "POST", path: "/v1/receipts", kind: "application/json", body: body, once: "stock"}); err != nil || status >= 300 {
		t.Fatalf("%d %s, %v", status, answer, err)
	}
}

// torment kills and restarts until it has done so as often as it was told.
func (s *service) torment(rnd *rand.Rand) {
	kills, restarts := 0, 0
	for kills < *crashKills || restarts < *crashRestarts {
		time.Sleep(time.Duration(100+rnd.IntN(900)) * time.Millisecond)
		left := *crashKills - kills + *crashRestarts - restarts
		if rnd.IntN(left) < *crashRestarts-restarts {
			s.restartPostgres(restarts%2 == 1)
			restarts++
			continue
		}
		if s.kill([]string{"api", "worker 1", "worker 2"}[rnd.IntN(3)]) {
			kills++
		}
	}
	s.t.Logf("%d kills, %d restarts of Postgres; starts %v", kills, restarts, s.starts)
}
