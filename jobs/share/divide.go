package share

import (
	"cmp"
	"math/bits"
	"slices"
)

// Divide divides a whole amount, as of money in minor units, by shares, as of area, that
// are not below nought: each part is a whole number, and they sum to the amount exactly.
// What rounding down leaves over goes, one each, to those who lost most by it, the first
// of equals first (the method of the largest remainder). Without any share all parts are
// nought.
func Divide(amount int64, shares []int64) []int64 {
	parts, lost := make([]int64, len(shares)), make([]uint64, len(shares))
	order, sum := make([]int, len(shares)), uint64(0)
	for i, s := range shares {
		order[i] = i
		sum += uint64(s)
	}
	if sum == 0 {
		return parts
	}
	sign, whole := int64(1), uint64(amount)
	if amount < 0 {
		sign, whole = -1, uint64(-amount)
	}
	left := whole
	for i, s := range shares {
		hi, lo := bits.Mul64(whole, uint64(s))
		part, rest := bits.Div64(hi, lo, sum) // hi < sum, since no share is above the sum
		parts[i], lost[i] = sign*int64(part), rest
		left -= part
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(lost[j], lost[i]) })
	for _, i := range order[:left] {
		parts[i] += sign
	}
	return parts
}
