//go:build race

package cost

// Watched says whether the race detector runs along.
const Watched = true
