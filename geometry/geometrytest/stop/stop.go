// Package stop checks that a computation ends when its context does.
package stop

import (
	"context"
	"errors"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"

	"go.uber.org/goleak"
)

// Within is how soon a computation has to end once its context has; under the
// race detector, which slows it down tenfold, it has ten times as long.
const Within = 200 * time.Millisecond

// errGone is the cause with which the contexts end.
var errGone = errors.New("nobody waits any more")

// Check runs compute once to its end, and then again several times with a
// context that ends after a share of that time: it has to return soon, with the
// cause, and to leave no goroutine. Soon is by the clock or, where other work
// holds the processors, by the processor time of this process.
func Check(t *testing.T, compute func(context.Context) error) {
	t.Helper()
	within := Within
	if cost.Watched {
		within *= 10
	}
	began := time.Now()
	if err := compute(t.Context()); err != nil {
		t.Fatalf("not stopped: %v", err)
	}
	whole := time.Since(began)
	for _, share := range []float64{0.02, 0.2, 0.4, 0.6, 0.8, 0.95} {
		checkAfter(t, compute, time.Duration(share*float64(whole)), within)
	}
	goleak.VerifyNone(t, goleak.IgnoreCurrent())
}

func checkAfter(t *testing.T, compute func(context.Context) error, after, within time.Duration) {
	t.Helper()
	ignore := goleak.IgnoreCurrent()
	ctx, cancel := context.WithCancelCause(t.Context())
	var stopped time.Time
	var spent time.Duration
	timer := time.AfterFunc(after, func() { stopped, spent = time.Now(), cost.Spent(); cancel(errGone) })
	err := compute(ctx)
	ended, used := time.Now(), cost.Spent()
	if timer.Stop() {
		cancel(nil)
		return // it was quicker this time
	}
	<-ctx.Done()
	if took := min(ended.Sub(stopped), used-spent); took > within {
		t.Errorf("stopped after %v: went on for %v", after, took)
	}
	if err != nil && !errors.Is(err, errGone) {
		t.Errorf("stopped after %v: %v", after, err)
	}
	goleak.VerifyNone(t, ignore)
}
