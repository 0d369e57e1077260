package budget

import (
	"context"
	"sync"
	"sync/atomic"
)

type shareKey struct{}

// Share returns a context whose computations use at most n goroutines at a time in
// one call of Each: what leaves processors to others. It changes no result.
func Share(ctx context.Context, n int) context.Context {
	return context.WithValue(ctx, shareKey{}, max(n, 1))
}

// Each runs do(i) for i from 0 to n-1 on up to workers goroutines, each with a
// Budget of its own that stops when b does. It returns when all have ended; the
// first panic in one of them, a stop included, ends the sharing out and goes on
// in the caller.
func Each(b *Budget, workers, n int, do func(b *Budget, i int)) {
	if share, bounded := b.Value(shareKey{}).(int); bounded {
		workers = min(workers, share)
	}
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
