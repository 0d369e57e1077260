//go:build race

package cost

// watched says whether the race detector runs along.
const watched = true
