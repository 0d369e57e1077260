package budget_test

import (
	"context"
	"slices"
	"testing"

	"knifedesk/geometry/budget"
)

// Parts of parts tell shares of the whole, and where nobody listens nothing is told.
func TestPartsTellOfTheWhole(t *testing.T) {
	var told []float64
	work := func(ctx context.Context) {
		err := budget.Run(ctx, func(b *budget.Budget) {
			first := b.Part(0, 0.5)
			first.Part(0, 0.25).Tell(1)
			first.Part(0.25, 1).Tell(0.5)
			b.Part(0.5, 1).Tell(0.5)
			b.Tell(1)
		})
		if err != nil {
			t.Error(err)
		}
	}
	work(t.Context())
	ctx := budget.Telling(t.Context(), func(share float64) { told = append(told, share) })
	work(ctx)
	work(budget.Part(ctx, 0.5, 1))
	if want := []float64{0.125, 0.3125, 0.75, 1, 0.5625, 0.65625, 0.875, 1}; !slices.Equal(told, want) {
		t.Errorf("told %v, not %v", told, want)
	}
	var none *budget.Budget
	none.Part(0, 1).Tell(1)
}
