package share

import (
	"math/bits"
	"slices"
)

// Divide divides a whole amount, as of money in minor units, by shares, as of area, that
// are not below nought: each part is a whole number, and they sum to the amount exactly.
// What rounding down leaves over goes, one each, to those who lost most by it, the first
// of equals first (the method of the largest remainder). Without any share all parts are
// nought.
func Divide(amount int64, shares []int64) []int64 {
	parts := make([]int64, len(shares))
	sum := uint64(0)
	for _, s := range shares {
		sum += uint64(s)
	}
	if sum == 0 {
		return parts
	}
	sign, whole := int64(1), uint64(amount)
	if amount < 0 {
		sign, whole = -1, uint64(-amount)
	}
	lost := make([]uint64, len(shares))
	order := make([]int, len(shares))
	left := whole
	for i, s := range shares {
		hi, lo := bits.Mul64(whole, uint64(s))
		part, rest := bits.Div64(hi, lo, sum) // hi < sum, since no share is above the sum
		parts[i], lost[i], order[i] = int64(part), rest, i
		left -= part
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case lost[i] > lost[j]:
			return -1
		case lost[i] < lost[j]:
			return 1
		}
		return 0
	})
	for _, i := range order[:left] {
		parts[i]++
	}
	for i := range parts {
		parts[i] *= sign
	}
	return parts
}
