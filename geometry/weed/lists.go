package weed

import (
	"maps"
	"slices"
)

// contains reports whether the ascending list holds n.
func contains(list []int, n int) bool {
	_, found := slices.BinarySearch(list, n)
	return found
}

func sorted(set map[int]bool) []int { return slices.Sorted(maps.Keys(set)) }
