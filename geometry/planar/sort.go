package planar

import (
	"math/bits"
	"slices"
)

// byHigh sorts keys by their upper 32 bits, keeping the order of equal ones,
// and returns the sorted slice, which is keys or spare.
func byHigh(keys, spare []uint64) (sorted, other []uint64) {
	const digit = 11
	var differ uint64
	for _, k := range keys {
		differ |= k ^ keys[0]
	}
	differ >>= 32
	spare = slices.Grow(spare[:0], len(keys))[:len(keys)]
	if len(keys) <= 24 {
		insertHigh(keys)
		return keys, spare
	}
	low := 0
	if differ != 0 {
		low = bits.TrailingZeros64(differ)
	}
	for shift := low; differ>>shift != 0; shift += digit {
		var start [1 << digit]uint32
		for _, k := range keys {
			start[k>>(32+shift)&(1<<digit-1)]++
		}
		sum := uint32(0)
		for i, n := range start {
			start[i] = sum
			sum += n
		}
		for _, k := range keys {
			d := k >> (32 + shift) & (1<<digit - 1)
			spare[start[d]] = k
			start[d]++
		}
		keys, spare = spare, keys
	}
	return keys, spare
}

func insertHigh(keys []uint64) {
	for i := 1; i < len(keys); i++ {
		k := keys[i]
		j := i
		for ; j > 0 && keys[j-1]>>32 > k>>32; j-- {
			keys[j] = keys[j-1]
		}
		keys[j] = k
	}
}

// sortable maps an int32 to a uint32 of the same order.
func sortable(v int32) uint32 { return uint32(v) ^ 1<<31 }

// unsortable undoes sortable.
func unsortable(v uint32) int32 { return int32(v ^ 1<<31) }
