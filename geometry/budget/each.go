package budget

import (
	"sync"
	"sync/atomic"
)

// Each runs do(i) for i from 0 to n-1 on up to workers goroutines, each with a
// Budget of its own that stops when b does. It returns when all have ended; the
// first panic in one of them, a stop included, ends the sharing out and goes on
// in the caller.
func Each(b *Budget, workers, n int, do func(b *Budget, i int)) {
	if workers <= 1 || n <= 1 {
		for i := range n {
			do(b, i)
		}
		return
	}
	var next atomic.Int64
	var raised atomic.Pointer[any]
	var group sync.WaitGroup
	for range min(workers, n) {
		group.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					raised.CompareAndSwap(nil, &p)
				}
			}()
			own := b.Fork()
			for raised.Load() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(own, i)
			}
		})
	}
	group.Wait()
	if p := raised.Load(); p != nil {
		panic(*p)
	}
}
