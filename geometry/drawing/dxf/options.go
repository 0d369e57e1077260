package dxf

// Options say what Read keeps and when it gives up. The zero value is right
// for a drawing that somebody sent in.
type Options struct {
	// KeepHidden keeps shapes on layers that are off or frozen, and shapes
	// marked invisible, instead of listing them in a note.
	KeepHidden bool
	Limits     Limits
}

// Limits bound the work that one file can cause. A zero field takes the value
// of DefaultLimits. Reading stops at the first limit reached, with a note
// that names it.
type Limits struct {
	Entities   int // entities kept, those in block definitions included
	Segments   int // segments of all shapes together
	Expansions int // entities placed by block inserts, arrays multiplied out
	Depth      int // inserts within inserts
	Line       int // bytes in one line of a text file, or one string of a binary
}

// DefaultLimits are far beyond any drawing for a sheet: two million segments
// of 1 mm would be 2 km of cutting. They keep 1 MB of hostile input within
// 256 MB and 2 s.
var DefaultLimits = Limits{
	Entities:   1_000_000,
	Segments:   2_000_000,
	Expansions: 200_000,
	Depth:      32,
	Line:       1 << 20,
}

func (l Limits) orDefault() Limits {
	or := func(v *int, d int) {
		if *v <= 0 {
			*v = d
		}
	}
	or(&l.Entities, DefaultLimits.Entities)
	or(&l.Segments, DefaultLimits.Segments)
	or(&l.Expansions, DefaultLimits.Expansions)
	or(&l.Depth, DefaultLimits.Depth)
	or(&l.Line, DefaultLimits.Line)
	return l
}
