package drawing

// DashDot reports whether the dashes of a pattern, without its gaps, are of two lengths,
// as dash and dot are: the longest is over twice the shortest (common practice, no source).
func DashDot(dashes []float64) bool {
	if len(dashes) == 0 {
		return false
	}
	least, most := dashes[0], dashes[0]
	for _, d := range dashes {
		least, most = min(least, d), max(most, d)
	}
	return most > 2*least
}

// DashesOf returns the dashes of a pattern of dashes and gaps in turn. One of an odd
// number is run twice (SVG 2, 13.5.6; ISO 32000-1, 8.4.3.6), so each is a dash once.
func DashesOf(pattern []float64) []float64 {
	if len(pattern)%2 == 1 {
		return pattern
	}
	var dashes []float64
	for i := 0; i < len(pattern); i += 2 {
		dashes = append(dashes, pattern[i])
	}
	return dashes
}
