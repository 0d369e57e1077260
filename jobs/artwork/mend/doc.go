// Package mend repairs lines that have an operation: it takes out what would
// be cut twice, joins ends that meet, drops what is too small to cut, and
// finds the faults that only a person can settle.
//
// Lines are artwork strokes in mm. Only lines of one operation are compared
// with each other. No result depends on the order in which the lines come:
// wherever one of two lines has to give way, the lines themselves decide (see
// compare), never their place in the list. Mending twice changes nothing more
// than mending once.
package mend

// Limits are the lengths, in mm, below which lines count as touching, alike or
// too small.
type Limits struct {
	// OverlapMM: two lines that run this close together are one.
	OverlapMM float64
	// JoinMM: ends this close are joined without asking.
	JoinMM float64
	// GapMM: ends this close are asked about; tails this long are spurs.
	GapMM float64
	// TinyMM: shorter segments are merged into their neighbours.
	TinyMM float64
	// DoubleMM: two contours that keep the same distance up to this one are
	// taken for the two sides of one drawn line.
	DoubleMM float64
}

// DefaultLimits are common practice, no source.
func DefaultLimits() Limits {
	return Limits{OverlapMM: 0.02, JoinMM: 0.1, GapMM: 1, TinyMM: 0.05, DoubleMM: 1}
}

// touchMM is the distance within which two ends are the same point: wider
// than rounding in any file format, far below what a cutter can show.
const touchMM = 0.001
