package separate

import (
	"cmp"
	"slices"
)

// sortBy sorts numbers by a key, equal ones as they were.
func sortBy(list []int, key func(int) float64) {
	slices.SortStableFunc(list, func(i, k int) int { return cmp.Compare(key(i), key(k)) })
}
