// Package artwork holds a drawing at true size, mended, every line with an
// operation. artwork/mend and artwork/meaning make it; the later jobs
// never look back at the drawing.
package artwork

import (
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Operation is what the machine does along a line.
type Operation string

// The operations, in the fixed order in which their passes run.
const (
	Pen        Operation = "pen"
	Score      Operation = "score"
	Perforate  Operation = "perforate"
	KissCut    Operation = "kiss_cut"    // film cut, liner whole
	ThroughCut Operation = "through_cut" // the stock cut wholly
)

// Operations lists all operations in the order of their passes.
func Operations() []Operation { return []Operation{Pen, Score, Perforate, KissCut, ThroughCut} }

// Words returns the operation as a person says it: "through cut".
func (o Operation) Words() string { return strings.ReplaceAll(string(o), "_", " ") }

// Cuts reports whether the operation parts the film or sheet, so that its
// lines bound regions.
func (o Operation) Cuts() bool { return o == KissCut || o == ThroughCut }

// Artwork is one piece at true size in mm, its lower left corner at the origin.
type Artwork struct {
	Strokes []Stroke     `json:"strokes"`
	Bounds  geometry.Box `json:"bounds"` // of all strokes
	// Origin is where the lower left corner lies in the drawing at true size.
	Origin geometry.Point `json:"origin"`
	// Turned says that the drawing was turned over at the line x = 0 before Origin
	// was taken.
	Turned bool `json:"turned,omitempty"`
	// Scale is what the true size was multiplied by so that what is made has the
	// length that somebody vouched for, though lines that were measured are left
	// out; 0: by nothing.
	Scale float64 `json:"scale,omitempty"`
	// Sheet is the frame drawn round the openings of a stencil, whose sheet it
	// shows; nil for other purposes and where there is none.
	Sheet *geometry.Box `json:"sheet,omitempty"`
	// Aside says which lines of the drawing the machine does not run: notes, by the
	// convention or by an answer, and those that wait for an answer.
	Aside []Span `json:"aside,omitempty"`
	// Stack is the films that this one lies among; nil: the work is of one film.
	Stack *Stack `json:"stack,omitempty"`
	// SavedMM is the length that would have been cut twice.
	SavedMM   float64           `json:"saved_mm"`
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

// Stroke is one unbroken line with one operation. Its place in
// Artwork.Strokes is its number.
type Stroke struct {
	Path      geometry.Path `json:"path"`
	Operation Operation     `json:"operation"`
	// Shape numbers the drawn shape the stroke came from, so that compound
	// paths keep their fill together; -1 for lines the plan added.
	Shape   int              `json:"shape"`
	Fill    drawing.FillRule `json:"fill,omitempty"` // empty: the shape is not filled
	Layer   string           `json:"layer,omitempty"`
	Colour  *drawing.Colour  `json:"colour,omitempty"`
	Sources []drawing.Source `json:"sources,omitempty"`
	Added   Added            `json:"added,omitempty"` // why the plan added it
	// Slit: a closed outline too thin to enclose anything, which is cut as one
	// line. It parts nothing, and its ends are no break of an outline.
	Slit bool `json:"slit,omitempty"`
}

// Placed maps the drawing at true size, Scale included, to the artwork's coordinates.
func (a *Artwork) Placed() geometry.Affine {
	m := geometry.Translate(-a.Origin.X, -a.Origin.Y)
	if a.Turned {
		m = geometry.Scale(-1, 1).Then(m)
	}
	return m
}

// Span is lines of the drawing that follow each other, counted over the paths of all
// shapes as the size leaves them.
type Span struct {
	From int  `json:"from"`
	To   int  `json:"to"`             // the first that is none of them
	Open bool `json:"open,omitempty"` // they wait for an answer
}

// Added says why a stroke is in the plan that is not in the drawing.
type Added string

// The kinds of added strokes.
const (
	Relief Added = "relief_line"
	Border Added = "weed_border"
	Bridge Added = "bridge"
	Seam   Added = "seam"
	Mark   Added = "register_mark" // of a panel or a film: kept beside the work, to lay it by
	Code   Added = "panel_code"    // of a panel: its name, in what is removed
)
