package separate

// Random is a stream of chance that is the same everywhere (SplitMix64, Steele,
// Lea and Flood 2014).
type Random uint64

// Next returns any number of 64 bits.
func (r *Random) Next() uint64 {
	*r += 0x9e3779b97f4a7c15
	z := uint64(*r)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Unit returns a number from 0 to below 1.
func (r *Random) Unit() float64 { return float64(r.Next()>>11) / (1 << 53) }

// Below returns a whole number from 0 to below n.
func (r *Random) Below(n int) int { return int(r.Next() >> 33 * uint64(n) >> 31) }

// shuffle puts the numbers in any order.
func (r *Random) shuffle(list []int) {
	for i := len(list) - 1; i > 0; i-- {
		k := r.Below(i + 1)
		list[i], list[k] = list[k], list[i]
	}
}
