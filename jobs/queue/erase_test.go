package queue_test

import (
	"testing"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// What was computed with answers that were changed since goes with the plan: of its
// results only what was read of the drawing is left, which goes with that.
func TestErasingTakesWhatFormerAnswersGave(t *testing.T) {
	q, store := start(t, &fakes{}, quick())
	ctx := t.Context()
	left := func() (n int) {
		t.Helper()
		if err := store.Pool.QueryRow(ctx, `select count(*) from results`).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	p := submit(t, q, "ann", "ask", request(1))
	if p.Status != plan.Asking {
		t.Fatalf("status %s", p.Status)
	}
	submitAnswer(t, q, p, queue.Reply{Question: "size/known", Answer: "length", MM: 137, Author: "ann"})
	once := left()
	submitAnswer(t, q, p, queue.Reply{Question: "size/known", Answer: "a4", Author: "ann"})
	if left() <= once {
		t.Fatalf("%d results after the second answer, %d after the first", left(), once)
	}
	if err := q.Erase(ctx, "ann", p.ID); err != nil {
		t.Fatal(err)
	}
	if n := left(); n != 1 {
		t.Errorf("%d results are left", n)
	}
	if err := q.EraseDrawing(ctx, "ann", p.Drawing, false); err != nil {
		t.Fatal(err)
	}
	if n := left(); n != 0 {
		t.Errorf("%d results are left after the drawing", n)
	}
}
