// Package number writes numbers as people read them: with a point, without
// grouping, and without digits that say nothing.
package number

import (
	"strconv"
	"strings"
)

// Text writes v with at most so many decimals, and fewer where they are noughts:
// 2.5 and not 2.50. What rounds to nothing is 0, whatever its sign.
func Text(v float64, decimals int) string {
	s := Fixed(v, decimals)
	if decimals > 0 {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Fixed writes v with exactly so many decimals.
func Fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// Significant writes v with at most so many digits from the first that is not
// nought, very small and very large numbers with an exponent.
func Significant(v float64, digits int) string { return strconv.FormatFloat(v, 'g', digits, 64) }

// Exact writes v with as many decimals as it takes to read the same number
// back.
func Exact(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
