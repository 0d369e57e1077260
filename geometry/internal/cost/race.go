//go:build race

package cost

// slowdown is how much longer code may take under the race detector, by its
// documentation 2 to 20 times.
const slowdown = 20
