package queue_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"

	"github.com/google/go-cmp/cmp"
)

func TestAnswerMovesThePlanOn(t *testing.T) {
	f := &fakes{}
	q, store := start(t, f, quick())
	ctx := t.Context()
	p := submit(t, q, "ann", "ask", request(1))
	if p.Status != plan.Asking {
		t.Fatalf("status %s", p.Status)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "ask")
	f.ran()

	answered, err := q.Answer(ctx, "ann", p.ID, queue.Reply{Question: "size/known", Answer: "a4", Author: "ann"})
	if err != nil || answered.Revision != 2 {
		t.Fatalf("revision %d, %v", answered.Revision, err)
	}
	p = settled(t, q, answered)
	want := each()
	delete(want, "read") // it came before the question
	if diff := cmp.Diff(want, f.ran()); diff != "" {
		t.Errorf("after the answer ran:\n%s", diff)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "ask")

	// Answered anew, and back: what was there is found again.
	submitAnswer(t, q, p, queue.Reply{Question: "size/known", Answer: "length", MM: 137, Author: "tech"})
	f.ran()
	submitAnswer(t, q, p, queue.Reply{Question: "size/known", Answer: "a4", Author: "ann"})
	if runs := f.ran(); len(runs) != 0 {
		t.Errorf("an answer given before ran %v", runs)
	}
	again, err := q.Answer(ctx, "ann", p.ID, queue.Reply{Question: "size/known", Answer: "a4", Author: "ann"})
	if err != nil || again.Revision != 4 || again.Status != plan.Ready {
		t.Errorf("the same answer sent again: revision %d, %s, %v", again.Revision, again.Status, err)
	}
	open, err := q.TakeBack(ctx, "ann", p.ID, "size/known", "tech")
	if err != nil {
		t.Fatal(err)
	}
	if open = settled(t, q, open); open.Status != plan.Asking || open.Revision != 5 {
		t.Errorf("after the answer was taken back: %s, revision %d", open.Status, open.Revision)
	}
	history, err := store.Replies(ctx, p.ID)
	if err != nil || len(history) != 4 || !history[3].TakenBack || history[1].MM != 137 || history[1].Author != "tech" {
		t.Errorf("history: %+v, %v", history, err)
	}
	nothingLeft(t, store)
}

func submitAnswer(t *testing.T, q *queue.Queue, p queue.Plan, r queue.Reply) {
	t.Helper()
	p, err := q.Answer(t.Context(), p.Client, p.ID, r)
	if err != nil {
		t.Fatal(err)
	}
	if p = settled(t, q, p); p.Status != plan.Ready {
		t.Fatalf("after the answer %+v: %s", r, p.Status)
	}
}

func TestWrongAnswersAreNotTaken(t *testing.T) {
	q, store := start(t, &fakes{}, quick())
	p := submit(t, q, "ann", "ask", request(1))
	for _, c := range []struct {
		reply queue.Reply
		code  string
	}{
		{queue.Reply{Question: "colour", Answer: "a4"}, queue.UnknownQuestion},
		{queue.Reply{Question: "size/known", Answer: "a5"}, queue.UnknownAnswer},
		{queue.Reply{Question: "size/known", Answer: "length"}, queue.LengthMissing},
		{queue.Reply{Question: "size/known", Answer: "length", MM: -3}, queue.LengthMissing},
		{queue.Reply{Question: "size/known", Answer: "a4", MM: 210}, queue.LengthNotTaken},
	} {
		// The right answer before it is not taken either.
		_, err := q.Answer(t.Context(), "ann", p.ID, queue.Reply{Question: "size/known", Answer: "a4"}, c.reply)
		var wrong *queue.ReplyError
		if !errors.As(err, &wrong) || wrong.Code != c.code || wrong.Question != c.reply.Question {
			t.Errorf("%+v: %v, want %s", c.reply, err, c.code)
		}
	}
	if after, err := store.Plan(t.Context(), "ann", p.ID); err != nil || after.Status != string(plan.Asking) || after.Revision != 1 {
		t.Errorf("the plan afterwards: %s, revision %d, %v", after.Status, after.Revision, err)
	}
}

func TestRevisionWhileAtWork(t *testing.T) {
	f := &fakes{}
	begun, goOn := make(chan struct{}, 10), make(chan struct{})
	f.during = func(_ context.Context, stage string) {
		if stage == "artwork" {
			begun <- struct{}{}
			<-goOn
		}
	}
	q, store := start(t, f, quick())
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	<-begun
	// The job that runs does not read prices: it goes on.
	p, err = q.Revise(t.Context(), "ann", p.ID, func(r *plan.Request) { r.Prices = request(9).Prices })
	if err != nil || p.Status != plan.Working {
		t.Fatalf("%s, %v", p.Status, err)
	}
	close(goOn)
	p = settled(t, q, p)
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
	if diff := cmp.Diff(each(), f.ran()); diff != "" {
		t.Errorf("runs:\n%s", diff)
	}
	nothingLeft(t, store)
}

func TestCancellingOneNeverStopsAnother(t *testing.T) {
	for _, c := range []struct {
		name   string
		cancel []int // of three equal plans, in this order
		runs   bool  // the job goes on afterwards
	}{
		{"the first", []int{0}, true},
		{"a later one", []int{2}, true},
		{"all but one", []int{0, 2}, true},
		{"all", []int{1, 0, 2}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := &fakes{}
			begun, goOn := make(chan struct{}, 10), make(chan struct{})
			var stopped atomic.Bool
			f.during = func(ctx context.Context, stage string) {
				if stage == "weeding" {
					begun <- struct{}{}
					select {
					case <-ctx.Done():
						stopped.Store(true)
					case <-goOn:
					}
				}
			}
			q, store := start(t, f, quick())
			plans := make([]queue.Plan, 3)
			for i, client := range []string{"ann", "ben", "cat"} {
				var err error
				plans[i], err = q.Submit(t.Context(), queue.SubmitParams{Client: client, File: []byte("plain"), Request: request(1)})
				if err != nil {
					t.Fatal(err)
				}
			}
			<-begun
			for _, i := range c.cancel {
				p, err := q.Cancel(t.Context(), plans[i].Client, plans[i].ID)
				if err != nil || p.Status != plan.Cancelled {
					t.Fatalf("cancel %d: %s, %v", i, p.Status, err)
				}
				plans[i] = p
			}
			if !c.runs {
				await(t, "the stage to be stopped", stopped.Load)
			} else {
				time.Sleep(100 * time.Millisecond)
				if stopped.Load() {
					t.Error("the stage was stopped though somebody waits")
				}
				close(goOn)
			}
			for _, p := range plans {
				if p.Status != plan.Cancelled {
					matchesLocal(t, store, settled(t, q, p), (&fakes{}).stages(), "plain")
				}
			}
			if n := f.ran()["weeding"]; n != 1 {
				t.Errorf("the stage ran %d times", n)
			}
			nothingLeft(t, store)
		})
	}
}

func await(t *testing.T, what string, is func() bool) {
	t.Helper()
	for range 500 {
		if is() {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("waited in vain for %s", what)
}

func TestCancelledPlanStaysSo(t *testing.T) {
	q, store := start(t, &fakes{}, quick())
	asking := submit(t, q, "ann", "ask", request(1))
	if p, err := q.Cancel(t.Context(), "ann", asking.ID); err != nil || p.Status != plan.Cancelled {
		t.Fatalf("cancel while asking: %s, %v", p.Status, err)
	}
	if _, err := q.Answer(t.Context(), "ann", asking.ID, queue.Reply{Question: "size/known", Answer: "a4"}); !errors.Is(err, queue.ErrState) {
		t.Errorf("an answer to a cancelled plan: %v", err)
	}
	ready := submit(t, q, "ann", "plain", request(1))
	if p, err := q.Cancel(t.Context(), "ann", ready.ID); err != nil || p.Status != plan.Ready {
		t.Errorf("cancel when ready: %s, %v", p.Status, err)
	}
	nothingLeft(t, store)
}

// A plan asked for by a person overtakes the same one in the batch queue.
func TestInteractivePlanTakesBatchWorkOver(t *testing.T) {
	f := &fakes{}
	cfg := quick()
	cfg.Batch = 0 // nobody works on that queue
	q, store := start(t, f, cfg)
	batch, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil || batch.Status != plan.Queued {
		t.Fatalf("%s, %v", batch.Status, err)
	}
	if p := submit(t, q, "ben", "plain", request(1)); p.Status != plan.Ready {
		t.Errorf("interactive: %s", p.Status)
	}
	if p := settled(t, q, batch); p.Status != plan.Ready {
		t.Errorf("batch: %s", p.Status)
	}
	nothingLeft(t, store)
}
