package svg

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

// Limits bound the work that a file can cause. A zero field takes its value
// from DefaultLimits. A limit that is reached becomes the note
// limit_reached, which names it; what was read until then is kept.
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

// DefaultLimits keep the reading of 1 MB of the most hostile input within 2 s
// and 256 MB.
var DefaultLimits = Limits{
	Bytes:      64 << 20,
	Unpacked:   16 << 20,
	Elements:   400_000,
	Attributes: 1_200_000,
	Depth:      256,
	Uses:       200_000,
	Repeats:    32 << 20,
	Segments:   1_000_000,
	EntityText: 1 << 20,
	StyleSteps: 5_000_000,
}

func (l Limits) withDefaults() Limits {
	pick := func(v *int, standard int) {
		if *v <= 0 {
			*v = standard
		}
	}
	pick(&l.Bytes, DefaultLimits.Bytes)
	pick(&l.Unpacked, DefaultLimits.Unpacked)
	pick(&l.Elements, DefaultLimits.Elements)
	pick(&l.Attributes, DefaultLimits.Attributes)
	pick(&l.Depth, DefaultLimits.Depth)
	pick(&l.Uses, DefaultLimits.Uses)
	pick(&l.Repeats, DefaultLimits.Repeats)
	pick(&l.Segments, DefaultLimits.Segments)
	pick(&l.EntityText, DefaultLimits.EntityText)
	pick(&l.StyleSteps, DefaultLimits.StyleSteps)
	return l
}
