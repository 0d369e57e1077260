package budget_test

import (
	"testing"
	"time"

	"knifedesk/geometry/budget"
)

// Workers compute at the same time: each of two waits for the other.
func TestEachComputesAtOnce(t *testing.T) {
	met := make(chan bool)
	budget.Each(nil, 2, 2, func(_ *budget.Budget, i int) {
		in, out := met, (chan bool)(nil)
		if i == 0 {
			in, out = nil, met
		}
		select {
		case out <- true:
		case <-in:
		case <-time.After(10 * time.Second):
			t.Errorf("%d computes alone", i)
		}
	})
}
