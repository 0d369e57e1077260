package weeding

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// each calls f for 0…n−1 on all processors. The calls must not depend on each
// other; each writes to places of its own, so that the result is the same in
// whatever order they run.
func each(n int, f func(i int)) {
	workers := min(n, runtime.GOMAXPROCS(0))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wg.Wait()
}
