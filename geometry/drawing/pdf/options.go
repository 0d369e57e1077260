package pdf

// Options say how to read. The zero value is right for most files.
type Options struct {
	Limits Limits
	// Page is the page to read, from 1. With 0 the first one is read, and the
	// note several_pages tells where there are others.
	Page int
	// KeepHidden keeps paths on layers that are off and paths that nothing
	// paints. They are listed in the notes either way.
	KeepHidden bool
}

// Limits bound the work that a file can cause. A zero field takes its value
// from DefaultLimits. A limit that is reached becomes the note
// limit_reached, which names it; what was read until then is kept.
type Limits struct {
	Bytes    int // of the file
	Objects  int // in the file
	Decoded  int // bytes that all streams unpack to
	Content  int // bytes of content that are read, forms as often as they are drawn
	Forms    int // forms and glyphs that are drawn
	Depth    int // of forms inside forms, and of saved states
	Pages    int // in the file
	Segments int // in all paths
}

// DefaultLimits keep the reading of 1 MB of the most hostile input within 2 s
// and 256 MB.
var DefaultLimits = Limits{
	Bytes:    64 << 20,
	Objects:  1_000_000,
	Decoded:  32 << 20,
	Content:  32 << 20,
	Forms:    100_000,
	Depth:    64,
	Pages:    10_000,
	Segments: 1_000_000,
}

func (l Limits) withDefaults() Limits {
	pick := func(v *int, standard int) {
		if *v <= 0 {
			*v = standard
		}
	}
	pick(&l.Bytes, DefaultLimits.Bytes)
	pick(&l.Objects, DefaultLimits.Objects)
	pick(&l.Decoded, DefaultLimits.Decoded)
	pick(&l.Content, DefaultLimits.Content)
	pick(&l.Forms, DefaultLimits.Forms)
	pick(&l.Depth, DefaultLimits.Depth)
	pick(&l.Pages, DefaultLimits.Pages)
	pick(&l.Segments, DefaultLimits.Segments)
	return l
}

// Names of the limits as the note limit_reached tells them.
const (
	limitBytes    = "bytes"
	limitDecoded  = "unpacked bytes"
	limitContent  = "bytes of page content"
	limitForms    = "forms and glyphs drawn"
	limitDepth    = "levels of nesting"
	limitPages    = "pages"
	limitSegments = "segments"
)
