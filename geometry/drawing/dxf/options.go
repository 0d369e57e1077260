package dxf

import "cmp"

// Options say what Read keeps and when it gives up. The zero value is right
// for a drawing that somebody sent in.
type Options struct {
	// KeepHidden keeps shapes on layers that are off or frozen, and shapes
	// marked invisible, instead of listing them in a note.
	KeepHidden bool
	Limits     Limits
}

// Limits bound the work that one file can cause. A zero field takes its usual
// value. Reading stops at the first limit reached, with a note that names it.
type Limits struct {
	Entities   int // entities kept, those in block definitions included
	Segments   int // segments of all shapes together
	Expansions int // entities placed by block inserts, arrays multiplied out
	Depth      int // inserts within inserts
	Line       int // bytes in one line of a text file, or one string of a binary
}

// filled returns l with the usual values where it has none. They are far beyond
// any drawing for a sheet: a million segments of 1 mm would be 1 km of cutting.
// They keep 1 MB of hostile input within 256 MB and 2 s.
func (l Limits) filled() Limits {
	return Limits{
		Entities:   cmp.Or(max(l.Entities, 0), 1_000_000),
		Segments:   cmp.Or(max(l.Segments, 0), 1_000_000),
		Expansions: cmp.Or(max(l.Expansions, 0), 200_000),
		Depth:      cmp.Or(max(l.Depth, 0), 32),
		Line:       cmp.Or(max(l.Line, 0), 1<<20),
	}
}
