package budget_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/geometry/budget"

	"go.uber.org/goleak"
)

func TestStepsAllowed(t *testing.T) {
	var none *budget.Budget
	b := none.Allow(3)
	if !b.Spend(2) || b.Over() || !b.Spend(1) || b.Spend(1) || !b.Over() || b.Allowed() != 3 || b.Spent() != 4 {
		t.Error("a budget of 3 steps did not end after 3")
	}
	if !none.Spend(1e9) || none.Over() || none.Spent() != 0 {
		t.Error("no budget has a bound")
	}
	if any := none.Fork(); !any.Spend(7) || any.Over() || any.Spent() != 7 {
		t.Error("a budget of any number of steps lost count")
	}
}

func TestStopFromDeepWithin(t *testing.T) {
	defer goleak.VerifyNone(t)
	ctx, cancel := context.WithCancelCause(t.Context())
	cause := errors.New("nobody waits")
	time.AfterFunc(10*time.Millisecond, func() { cancel(cause) })
	ended := false
	err := budget.Run(ctx, func(b *budget.Budget) {
		budget.Each(b, 4, 1000, func(b *budget.Budget, _ int) {
			for b = b.Allow(1 << 40); b.Spend(1); {
			}
		})
		ended = true
	})
	if !errors.Is(err, cause) || ended {
		t.Errorf("error %v, ended %v", err, ended)
	}
}

func TestEnded(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := budget.Run(ctx, func(*budget.Budget) { t.Error("began") }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestOtherPanicsPass(t *testing.T) {
	defer func() {
		if recover() != "fault" {
			t.Error("the panic of a fault was swallowed")
		}
	}()
	_ = budget.Run(t.Context(), func(b *budget.Budget) {
		budget.Each(b, 2, 4, func(_ *budget.Budget, i int) {
			if i == 2 {
				panic("fault")
			}
		})
	})
}

// A share bounds how many goroutines compute at a time, and takes nothing away.
func TestShareBoundsEach(t *testing.T) {
	for _, c := range []struct{ share, workers, want int64 }{{1, 4, 1}, {2, 4, 2}, {9, 3, 3}, {0, 4, 1}} {
		var at, most, done atomic.Int64
		err := budget.Run(budget.Share(context.Background(), int(c.share)), func(b *budget.Budget) {
			budget.Each(b, int(c.workers), 24, func(b *budget.Budget, _ int) {
				for n := at.Add(1); n > most.Load(); {
					most.Store(n)
				}
				time.Sleep(time.Millisecond)
				at.Add(-1)
				done.Add(1)
			})
		})
		if err != nil || most.Load() > c.want || done.Load() != 24 {
			t.Errorf("share %d of %d: %d at a time, %d done, %v", c.share, c.workers, most.Load(), done.Load(), err)
		}
	}
}
