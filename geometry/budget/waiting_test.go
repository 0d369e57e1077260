package budget_test

import (
	"context"
	"testing"

	"knifedesk/geometry/budget"
)

// Whoever is asked to wait is asked at each look, in forks and in bounded computations too.
func TestWaitsAtEachLook(t *testing.T) {
	waited := 0
	ctx := budget.Waiting(t.Context(), func() { waited++ })
	err := budget.Run(ctx, func(b *budget.Budget) {
		for name, own := range map[string]*budget.Budget{"itself": b, "fork": b.Fork(), "bounded": b.Allow(1 << 20), "fork of bounded": b.Allow(9).Fork()} {
			waited = 0
			for range 10_000 {
				own.Step()
			}
			if waited < 10 {
				t.Errorf("%s: waited %d times in 10,000 steps", name, waited)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	ended, end := context.WithCancel(ctx)
	if err := budget.Run(ended, func(b *budget.Budget) {
		end()
		for range 10_000 {
			b.Step()
		}
	}); err == nil {
		t.Error("it is not stopped")
	}
}
