package planar

import (
	"runtime"

	"knifedesk/geometry/budget"
)

// inParts calls do for consecutive parts of 0…n−1, one a processor, at the
// same time, each with a budget of its own, and waits for all. Small n are done
// in one part.
func inParts(b *budget.Budget, n, least int, do func(b *budget.Budget, part, from, to int)) (parts int) {
	parts = max(1, min(runtime.GOMAXPROCS(0), n/least))
	budget.Each(b, parts, parts, func(b *budget.Budget, p int) { do(b, p, p*n/parts, (p+1)*n/parts) })
	return parts
}
