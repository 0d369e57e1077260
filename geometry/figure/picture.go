package figure

import "knifedesk/geometry"

// Picture is a finished page of figures in pixels, x to the right and y down.
type Picture struct {
	Width, Height float64
	Title         string // for screen readers
	figures       []figure
}

// Zone says which part of the page a figure belongs to.
type Zone string

// The zones.
const (
	zoneHead    Zone = "head"
	zoneDrawing Zone = "drawing" // in true proportion
	ZoneMarks   Zone = "marks"   // numbers, arrows and dimensions over it
	zoneScale   Zone = "scale"
	zoneLegend  Zone = "legend"
	zoneNotes   Zone = "notes"
)

// The inks of a page, dark enough for every tint they may lie on.
const (
	Ink   = "#1d2433"
	Quiet = "#4a5163" // subtitles
	Faint = "#646c7d" // helping lines
	Paper = "#ffffff"
)

// Style says how a figure is inked. Widths and dashes are in pixels.
type Style struct {
	Stroke  string // #rrggbb, empty: none
	Width   float64
	Dash    []float64 // on, off, on, …; empty: a whole line
	Fill    string    // #rrggbb, empty: none
	Opacity float64   // 0 counts as opaque
}

// figure is a set of paths inked together, filled by the even-odd rule, or a
// line of text.
type figure struct {
	zone  Zone
	clip  *geometry.Box
	paths []geometry.Path
	style Style
	text  string
	at    geometry.Point // baseline of the text
	size  float64
	bold  bool
	align align
}

// align says where the point of a text lies on its baseline.
type align uint8

// The alignments.
const (
	left align = iota
	middle
)
