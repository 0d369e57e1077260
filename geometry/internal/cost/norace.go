//go:build !race

package cost

// slowdown is 1 where nothing watches the code.
const slowdown = 1
