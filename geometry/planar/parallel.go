package planar

import (
	"runtime"
	"sync"
)

// inParts calls do for consecutive parts of 0…n−1, one a processor, at the
// same time, and waits for all. Small n are done in one part.
func inParts(n, least int, do func(part, from, to int)) (parts int) {
	parts = max(1, min(runtime.GOMAXPROCS(0), n/least))
	if parts == 1 {
		do(0, 0, n)
		return 1
	}
	var all sync.WaitGroup
	for p := range parts {
		all.Go(func() { do(p, p*n/parts, (p+1)*n/parts) })
	}
	all.Wait()
	return parts
}
