package svg

import "cmp"

// Options say how to read. The zero value is right for most files.
type Options struct {
	Limits Limits
	// KeepHidden keeps paths whose visibility is hidden and paths that have
	// neither stroke nor fill; what has display none stays out. All of them are
	// listed in the notes either way.
	KeepHidden bool
	// Language decides between the branches of a switch, as in BCP 47;
	// "en" where empty.
	Language string
}

// Limits bound the work that a file can cause. A zero field takes its usual
// value. A limit that is reached becomes the note limit_reached, which names it;
// what was read until then is kept.
type Limits struct {
	Bytes      int // of the file
	Unpacked   int // bytes of a packed file once unpacked
	Elements   int // in the file
	Attributes int // in the file
	Depth      int // of nesting, references included
	Uses       int // elements drawn through references
	Repeats    int // bytes of attributes read again through references
	Segments   int // in all paths
	EntityText int // bytes that internal entities stand for
	StyleSteps int // comparisons with selectors and values set by rules
}

// filled returns l with the usual values where it has none, which keep the
// reading of 1 MB of the most hostile input within 2 s and 256 MB.
func (l Limits) filled() Limits {
	return Limits{
		Bytes:      cmp.Or(max(l.Bytes, 0), 64<<20),
		Unpacked:   cmp.Or(max(l.Unpacked, 0), 16<<20),
		Elements:   cmp.Or(max(l.Elements, 0), 200_000),
		Attributes: cmp.Or(max(l.Attributes, 0), 600_000),
		Depth:      cmp.Or(max(l.Depth, 0), 256),
		Uses:       cmp.Or(max(l.Uses, 0), 200_000),
		Repeats:    cmp.Or(max(l.Repeats, 0), 32<<20),
		Segments:   cmp.Or(max(l.Segments, 0), 500_000),
		EntityText: cmp.Or(max(l.EntityText, 0), 1<<20),
		StyleSteps: cmp.Or(max(l.StyleSteps, 0), 5_000_000),
	}
}
