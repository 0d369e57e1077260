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

// Within is how soon a computation has to end once its context has. Time is
// judged without the race detector, under which it only has to end at all.
const (
	Within  = 200 * time.Millisecond
	watched = time.Minute
)

// errGone is the cause with which the contexts end.
var errGone = errors.New("nobody waits any more")

// Check runs compute once to its end, and then again several times with a
// context that ends after a share of that time: it has to return soon, with the
// cause, and to leave no goroutine. Soon is by the clock or, where other work
// holds the processors, by the processor time of this process. The input is to
// take about a second, so that what cannot be stopped shows.
//
// The race detector looks at what runs side by side, and not at how large it
// is: under it the contexts end early, and nothing is run to its end.
func Check(t *testing.T, compute func(context.Context) error) {
	t.Helper()
	ignore := goleak.IgnoreCurrent()
	within := Within
	var stops []time.Duration
	if cost.Watched {
		within = watched
		stops = []time.Duration{100 * time.Millisecond, 500 * time.Millisecond}
	} else {
		whole := length(t, compute)
		for _, share := range []float64{0.02, 0.3, 0.6, 0.9} {
			stops = append(stops, time.Duration(share*float64(whole)))
		}
	}
	var late time.Duration
	for _, after := range stops {
		late = max(late, checkAfter(t, compute, after, within))
	}
	t.Logf("stopped it went on for %v at most", late.Round(time.Millisecond))
	goleak.VerifyNone(t, ignore)
}

// length returns how long compute takes by itself.
func length(t *testing.T, compute func(context.Context) error) time.Duration {
	t.Helper()
	began := time.Now()
	if err := compute(t.Context()); err != nil {
		t.Fatalf("not stopped: %v", err)
	}
	whole := time.Since(began)
	t.Logf("not stopped it takes %v", whole.Round(time.Millisecond))
	return whole
}

// attempts is how often the same share is looked at where it ends too late: what
// takes no steps is late each time, a pause of the machine is not.
const attempts = 3

// checkAfter returns for how long compute went on.
func checkAfter(t *testing.T, compute func(context.Context) error, after, within time.Duration) time.Duration {
	t.Helper()
	var took time.Duration
	for range attempts {
		if took = wentOn(t, compute, after); took <= within {
			return took
		}
	}
	t.Errorf("stopped after %v: went on for %v", after, took)
	return took
}

// wentOn stops compute and returns for how long it went on all the same.
func wentOn(t *testing.T, compute func(context.Context) error, after time.Duration) time.Duration {
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
		if err != nil {
			t.Errorf("not stopped: %v", err)
		}
		return 0 // it was quicker this time
	}
	<-ctx.Done()
	if err != nil && !errors.Is(err, errGone) {
		t.Errorf("stopped after %v: %v", after, err)
	}
	goleak.VerifyNone(t, ignore)
	return min(ended.Sub(stopped), used-spent)
}
