// Package drawing holds a drawing as it was read: shapes with paint, layer and
// source, the evidence for its unit, and nothing judged yet.
//
// Coordinates are in the drawing's own units with y up, curves exact. The
// readers beside it (dxf, svg and pdf) make drawings.
package drawing

import "knifedesk/geometry"

// Drawing is one file as read.
type Drawing struct {
	Format  string        `json:"format"`            // dxf, svg or pdf
	Version string        `json:"version,omitempty"` // of the format, as the file says
	Unit    Unit          `json:"unit"`
	Page    *geometry.Box `json:"page,omitempty"` // page or view box in drawing units
	Layers  []Layer       `json:"layers,omitempty"`
	Shapes  []Shape       `json:"shapes"`
	Clips   []Clip        `json:"clips,omitempty"` // outlines that shapes are cut off at
	// Measures are what the file tells of lengths where that need not be what is drawn.
	Measures []Measure      `json:"measures,omitempty"`
	Kinds    map[string]int `json:"kinds"` // entities or elements by kind, those left out included
	Notes    []Note         `json:"-"`     // what its reader has to say about the file
}

// Unit is what the file itself says of its unit.
type Unit struct {
	Name     string  `json:"name"`     // mm, inch, px, pt, …; "none" where the file is silent
	MM       float64 `json:"mm"`       // mm in one drawing unit by that reading; 1 where silent
	Declared bool    `json:"declared"` // the file states it, in a header or a physical page size
	Source   string  `json:"source"`   // where: "$INSUNITS 4", `width="210mm"`
	// PerNumber is how many drawing units one unit of the file's own numbers
	// is, where a view box makes them differ; 0: one.
	PerNumber float64 `json:"per_number,omitempty"`
}

// Layer is a named layer, with the colour its shapes take unless they have
// one of their own.
type Layer struct {
	Name   string  `json:"name"`
	Colour *Colour `json:"colour,omitempty"`
	Off    bool    `json:"off,omitempty"`
	Frozen bool    `json:"frozen,omitempty"`
	Locked bool    `json:"locked,omitempty"`
}

// FillRule says which parts of a filled shape are inside.
type FillRule string

// The fill rules of SVG and PDF.
const (
	NonZero FillRule = "nonzero"
	EvenOdd FillRule = "evenodd"
)

// Shape is one drawn figure: an entity, or an element with its sub-paths.
type Shape struct {
	Paths       []geometry.Path `json:"paths"`
	Layer       string          `json:"layer,omitempty"`
	Stroke      *Colour         `json:"stroke,omitempty"` // nil: not stroked
	Fill        *Colour         `json:"fill,omitempty"`   // nil: not filled
	FillRule    FillRule        `json:"fill_rule,omitempty"`
	StrokeWidth float64         `json:"stroke_width,omitempty"` // drawing units
	Dashed      bool            `json:"dashed,omitempty"`
	// DashDot says of a dashed line that its dashes are of two lengths.
	DashDot bool   `json:"dash_dot,omitempty"`
	Source  Source `json:"source"`
	// Mirrored says that the placements of the shape turn it over.
	Mirrored bool `json:"mirrored,omitempty"`
	// Nested is the mean scale of the placements inside the file (block
	// inserts, nested view boxes) against its outermost one; 1 for none.
	Nested float64 `json:"nested,omitempty"`
	// Clips numbers the entries of Drawing.Clips that cut the shape: only what
	// lies inside all of them shows. The paths are whole all the same.
	Clips []int `json:"clips,omitempty"`
}

// Clip is an outline that hides what lies outside it. A point is inside when
// it is inside any of the regions.
type Clip struct {
	Regions []Region `json:"regions"`
	Source  Source   `json:"source"`
}

// Region is the inside of some closed paths by a fill rule. Open paths count
// as closed by a straight line.
type Region struct {
	Paths    []geometry.Path `json:"paths"`
	FillRule FillRule        `json:"fill_rule"`
}

// Source says where in the file a shape stands.
type Source struct {
	Kind string `json:"kind"`           // LWPOLYLINE, path, …
	ID   string `json:"id,omitempty"`   // entity handle or element id
	Line int    `json:"line,omitempty"` // line of a text file, from 1
}

// String returns the source as places show it.
func (s Source) String() string {
	if s.ID == "" {
		return s.Kind
	}
	return s.Kind + " " + s.ID
}

// Bounds returns the tight box of all shapes, strokes without their width.
func (d *Drawing) Bounds() geometry.Box {
	b := geometry.EmptyBox()
	for i := range d.Shapes {
		b = b.Union(d.Shapes[i].Bounds())
	}
	return b
}

// Bounds returns the tight box of the shape, without its stroke width.
func (s *Shape) Bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range s.Paths {
		b = b.Union(p.Bounds())
	}
	return b
}
