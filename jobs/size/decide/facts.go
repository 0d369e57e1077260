// Package decide makes a verdict on the size of a drawing from the facts of the
// case. It is one pure function: no geometry, no words, no drawing.
package decide

import "knifedesk/jobs/finding"

// Facts are all that the verdict rests on.
type Facts struct {
	Given    bool // the caller gave the unit, the scale or a length
	Declared bool // the caller said which size the frame has
	Apart    bool // Given and Declared make different sizes of the frame
	Stated   bool // the file states its unit
	Paged    bool // without a unit: the page has a named size by one unit alone
	Measured bool // plates have whole mm by another unit alone
	Told     bool // the dimensions say that it has another size than by the file or its frame
	Backed   bool // without a unit: a dimension names the length that is drawn, and its unit
	AsRead   bool // as the file reads it the work is plausible and fits the stock
	Rect     *Rect
}

// Rect is the rectangle round the work that may be its frame.
type Rect struct {
	OnFrameLayer bool // the convention keeps its layer for frames
	LooksCut     bool // it has the layer or the look of lines that are cut
	Closed       bool // closed shapes lie in it
	Empty        bool // nothing else is drawn
	Beside       bool // it lies beside the work and not round it
	Fit          Fit
	Agrees       bool // Declared: its axes agree with the size within 0.05 mm
	Sound        bool // four sides are drawn, at right angles

	CutAsRead bool // as large as the file reads, it could be cut: smaller than the stock
	CutAsFit  bool // likewise as large as its best reading
	FitsStock bool // the work is plausible and fits the stock by the best reading
	Said      bool // its own layer has the size in its name that it has as the file reads
	Metric    bool // Other: mm, cm, m or inches are mixed up, as numbers are typed
	Ruled     bool // as the file reads it, it has round measures
	Pointed   bool // Shape: more than the shape speaks for the best reading
	PagePart  bool // it fills only a part of the page that the file states
	Ground    bool // it is the painted background of the page, by a file that states its unit
	WorkFits  bool // as the file reads, the work without the rectangle is plausible and fits the stock
	Margins   bool // it keeps even margins inside a page, likewise

	// Bent is what is asked about a rectangle without the shape of a paper: that
	// the frame was stretched, edited, rounded, or that nothing tells.
	Bent finding.Code
}

// Fit says how a rectangle fits the named sizes, the best first that holds.
type Fit int

// The fits.
const (
	NoFit    Fit = iota // neither the size nor the shape of a paper
	Near                // about the shape, or one side
	Shape               // the very shape, by a factor without a name
	Rivalled            // several sizes by named causes
	Other               // one size by a named cause, against the file's own reading
	Own                 // one size as the file reads
)

// Size says what the size rests on.
type Size int

// The sizes.
const (
	Asked   Size = iota
	ByWord       // what the caller gave
	ByFile       // the file's own reading
	ByFrame      // the best reading of the frame
)

// Role says what a rectangle is.
type Role int

// The roles.
const (
	Part     Role = iota // of the work, like any line
	Frame                // carries the size and is not cut
	Open                 // asked about on its own, when the size is settled
	InAnswer             // the answer to the question about the size says it
)

// First says which answers a question begins with.
type First int

// The beginnings.
const (
	Readings First = iota
	Piece          // the rectangle is an edge of the work, as large as the file reads
	Second         // the best reading, then the piece
	Length         // a known length: nothing tells the readings apart
)

// Verdict is what the facts come to.
type Verdict struct {
	Size  Size
	Role  Role
	Code  finding.Code // Asked: why
	First First        // Asked: the first answers
}
