package pdf

import "cmp"

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

// Limits bound the work that a file can cause. A zero field takes its usual
// value. A limit that is reached becomes the note limit_reached, which names it;
// what was read until then is kept.
type Limits struct {
	Bytes    int // of the file
	Objects  int // in the file
	Decoded  int // bytes that all streams unpack to
	Content  int // bytes of content that are read, forms as often as they are drawn
	Forms    int // forms and glyphs that are drawn
	Depth    int // of forms inside forms, and of saved states
	Pages    int // in the file
	Paths    int // drawn, those of forms and glyphs as often as they are
	Segments int // in all paths
}

// filled returns l with the usual values where it has none, which keep the
// reading of 1 MB of the most hostile input within 2 s and 256 MB.
func (l Limits) filled() Limits {
	return Limits{
		Bytes:    cmp.Or(max(l.Bytes, 0), 64<<20),
		Objects:  cmp.Or(max(l.Objects, 0), 300_000),
		Decoded:  cmp.Or(max(l.Decoded, 0), 32<<20),
		Content:  cmp.Or(max(l.Content, 0), 32<<20),
		Forms:    cmp.Or(max(l.Forms, 0), 100_000),
		Depth:    cmp.Or(max(l.Depth, 0), 64),
		Pages:    cmp.Or(max(l.Pages, 0), 10_000),
		Paths:    cmp.Or(max(l.Paths, 0), 150_000),
		Segments: cmp.Or(max(l.Segments, 0), 500_000),
	}
}

// Names of the limits as the note limit_reached tells them.
const (
	limitBytes    = "bytes"
	limitObjects  = "objects"
	limitDecoded  = "unpacked bytes"
	limitContent  = "bytes of page content"
	limitForms    = "forms and glyphs drawn"
	limitDepth    = "levels of nesting"
	limitPages    = "pages"
	limitPaths    = "paths"
	limitSegments = "segments"
	limitOperands = "operands of an operator"
	limitSteps    = "steps of colour functions"
	limitValues   = "values of an object"
	limitAll      = "values of all objects"
)
