package queue_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// Clients that submit, answer, change and cancel all at once, on few drawings,
// so that nearly all work is shared: every plan comes to rest with the results
// that it would have alone, and nothing is left behind.
func TestManyAtOnce(t *testing.T) {
	f := &fakes{pause: 15 * time.Millisecond}
	q, store := start(t, f, quick())
	var mu sync.Mutex
	var plans []queue.Plan
	var clients sync.WaitGroup
	for n := range 8 {
		clients.Go(func() {
			c := client{t: t, q: q, name: fmt.Sprint("client ", n), rnd: rand.New(rand.NewPCG(7, uint64(n)))}
			for range 15 {
				c.step()
			}
			mu.Lock()
			defer mu.Unlock()
			plans = append(plans, c.plans...)
		})
	}
	clients.Wait()
	seen := map[plan.Status]int{}
	for _, p := range plans {
		p = settled(t, q, p)
		seen[p.Status]++
		if p.Status == plan.Cancelled {
			continue
		}
		file, err := store.File(t.Context(), p.Hash)
		if err != nil {
			t.Fatal(err)
		}
		matchesLocal(t, store, p, (&fakes{}).stages(), string(file))
	}
	t.Logf("%d plans: %v; runs %v", len(plans), seen, f.ran())
	nothingLeft(t, store)
}

// client does random things to its own plans.
type client struct {
	t     *testing.T
	q     *queue.Queue
	name  string
	rnd   *rand.Rand
	plans []queue.Plan
}

func (c *client) step() {
	if len(c.plans) == 0 || c.rnd.IntN(2) == 0 {
		p, err := c.q.Submit(c.t.Context(), queue.SubmitParams{
			Client: c.name, File: []byte([]string{"plain a", "plain b", "plain c", "plain d", "ask e"}[c.rnd.IntN(5)]),
			Request: request(c.rnd.Int64N(2)), Queue: []db.Queue{db.Interactive, db.Batch}[c.rnd.IntN(2)],
		})
		if err != nil {
			c.t.Error(err)
		}
		c.plans = append(c.plans, p)
		return
	}
	p := c.plans[c.rnd.IntN(len(c.plans))]
	var err error
	switch c.rnd.IntN(4) {
	case 0:
		_, err = c.q.Cancel(c.t.Context(), c.name, p.ID)
	case 1:
		_, err = c.q.Answer(c.t.Context(), c.name, p.ID, queue.Reply{Question: "size/known", Answer: "a3"})
	default:
		_, err = c.q.Revise(c.t.Context(), c.name, p.ID, func(r *plan.Request) { r.Copies = 1 + c.rnd.IntN(3) })
	}
	var notAsked *queue.ReplyError
	if err != nil && !errors.Is(err, queue.ErrState) && !errors.As(err, &notAsked) {
		c.t.Error(err)
	}
}
