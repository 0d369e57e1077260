// Package stop checks that a computation ends when its context does.
package stop

import (
	"context"
	"errors"
	"runtime"
	"runtime/debug"
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

// much is the memory, in bytes, from which on the collector does not rest.
const much = 2 << 30

// errGone is the cause with which the contexts end.
var errGone = errors.New("nobody waits any more")

// Check runs compute once to its end and looks at how long it goes on without
// asking whether anybody waits, wherever that is: at no moment may it be long.
// Then it runs again with a context that ends on the way: it has to return soon,
// with the cause, and to leave no goroutine. Long is by the clock or, where other
// work holds the processors, by the processor time of this process. The input is
// to take about a second, so that what cannot be stopped shows.
//
// The race detector looks at what runs side by side, and not at how large it
// is: under it the contexts end early, and nothing is run to its end.
func Check(t *testing.T, compute func(context.Context) error) {
	t.Helper()
	ignore := goleak.IgnoreCurrent()
	if cost.Watched {
		checkAfter(t, compute, 100*time.Millisecond, watched)
		checkAfter(t, compute, 500*time.Millisecond, watched)
	} else {
		whole := checkAsks(t, compute)
		checkAfter(t, compute, whole/3, Within)
	}
	goleak.VerifyNone(t, ignore)
}

// checkAsks checks that compute asks its context often enough, and returns how
// long it takes by itself. What the collector of memory does between two looks is
// none of compute's: it rests meanwhile, up to much memory. In checkAfter it works.
func checkAsks(t *testing.T, compute func(context.Context) error) time.Duration {
	t.Helper()
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(much))
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	var whole, longest time.Duration
	for range attempts {
		runtime.GC()
		began := time.Now()
		asked := newAsked(t.Context())
		if err := compute(asked); err != nil {
			t.Fatalf("not stopped: %v", err)
		}
		_ = asked.Err() // what follows the last question is time as well
		whole, longest = time.Since(began), asked.longest
		if longest <= Within {
			t.Logf("it takes %v, and at most %v between two looks", whole.Round(time.Millisecond), longest.Round(time.Millisecond))
			return whole
		}
	}
	t.Errorf("of %v it goes on for %v without a look at its context", whole, longest)
	return whole
}

// attempts is how often the same is looked at where it ends too late: what
// takes no steps is late each time, a pause of the machine is not.
const attempts = 3

func checkAfter(t *testing.T, compute func(context.Context) error, after, within time.Duration) {
	t.Helper()
	var took time.Duration
	for range attempts {
		if took = wentOn(t, compute, after); took <= within {
			return
		}
	}
	t.Errorf("stopped after %v: went on for %v", after, took)
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
