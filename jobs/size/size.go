// Package size recovers the true size of a drawing from the evidence in it
// and what the caller declared, or asks one question about it.
//
// It has four rooms: evidence measures the drawing, reading weighs what its size
// can be, decide makes a verdict of the facts by one table, and this package
// joins them and finds the words.
package size

import (
	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/workshop"
)

// Request is what the caller and the workshop say about the size.
type Request struct {
	Frame       string       `json:"frame,omitempty"`        // named size or "210x297": what the frame is; NoFrame: there is none
	KnownLength *KnownLength `json:"known_length,omitempty"` // one length the caller knows
	Unit        string       `json:"unit,omitempty"`         // mm, cm, m, inch, pt, px: that of the file's numbers
	Scale       float64      `json:"scale,omitempty"`        // mm for one unit of the file's numbers, taken as it is

	FrameIsSheet bool                 `json:"frame_is_sheet,omitempty"` // by the convention
	FrameLayers  []string             `json:"frame_layers,omitempty"`   // patterns of the convention, as workshop.OnLayer reads them
	WorkLayers   []string             `json:"work_layers,omitempty"`    // likewise: what the machine runs
	NotesLayers  []string             `json:"notes_layers,omitempty"`   // likewise: what it never runs
	Sheets       []workshop.NamedSize `json:"sheets,omitempty"`         // the workshop's, beside ISO 216
	Stock        workshop.Stock       `json:"stock"`
	MendsOff     []string             `json:"mends_off,omitempty"`
	Replies      ask.Replies          `json:"replies,omitempty"` // those to this stage's questions
}

// KnownLength is a length of the drawing that the caller vouches for.
type KnownLength struct {
	Of string  `json:"of"` // width, height (of the artwork), or longest_line
	MM float64 `json:"mm"`
}

// Result is the true size and how it is known. X and Y are mm for one drawing
// unit along each axis, the same unless a per-axis mend was chosen.
type Result struct {
	// Transform maps drawing units to mm; the artwork is not moved to the origin.
	Transform geometry.Affine `json:"transform"`
	X         float64         `json:"mm_per_unit_x"`
	Y         float64         `json:"mm_per_unit_y"`
	Cause     string          `json:"cause"` // code of the named cause: points_read_as_mm, none, declared_frame, …
	Why       string          `json:"why"`   // a sentence
	// Known is the length that the size rests on, where somebody vouched for one
	// of the artwork. What is cut has to have it, whatever is left out later.
	Known      *KnownLength `json:"known,omitempty"`
	WidthMM    float64      `json:"width_mm"` // of the artwork, frame out
	HeightMM   float64      `json:"height_mm"`
	ResidualMM [2]float64   `json:"residual_mm"` // left at the far corner, along x and y
	Frame      *Frame       `json:"frame,omitempty"`
	Hypotheses []Hypothesis `json:"hypotheses,omitempty"` // all weighed, the best first
	// FrameParts say which lines are the frame and must not be cut.
	FrameParts []Part `json:"frame_parts,omitempty"`
	// LeftOut are lines that somebody said are not meant: those of other drawings in
	// the file than the one that was chosen, and what lies beside the frame.
	LeftOut []Part `json:"left_out,omitempty"`
	// Placed are parts that have another map than Transform.
	Placed []Placed `json:"placed,omitempty"`
	// Findings and Questions have their places in drawing units.
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

// Part names one path of one shape of the drawing, or segments of it.
type Part = evidence.Part

// Placed is how some parts of the drawing get their true size and place where
// several drawings in one file have sizes of their own.
type Placed struct {
	Parts     []Part          `json:"parts"`
	Transform geometry.Affine `json:"transform"`
}

// Frame is the rectangle that carries the true size.
type Frame struct {
	Name      string            `json:"name"`       // "A4"; empty while it is not settled
	SideUnits [2]float64        `json:"side_units"` // as drawn, along its own sides
	SideMM    [2]float64        `json:"side_mm"`
	TurnDeg   float64           `json:"turn_deg"`
	Corners   [4]geometry.Point `json:"corners"` // drawing units
}

// Hypothesis is one reading of the size, weighed.
type Hypothesis struct {
	Frame      string     `json:"frame,omitempty"` // named size it takes the frame for
	Factor     float64    `json:"factor"`          // mm for one drawing unit
	Cause      string     `json:"cause"`
	ResidualMM [2]float64 `json:"residual_mm"`
	FitsStock  bool       `json:"fits_stock"`
	Plausible  bool       `json:"plausible"` // features neither microscopic nor off the page
	Evidence   string     `json:"evidence"`
}
