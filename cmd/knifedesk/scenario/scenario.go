// Package scenario makes the drawings of the invented exhibition "Salt &
// Signal" at Orrin Point College, clean and spoiled, as DXF and as SVG. They
// serve the demo and the tests; nothing in them stands for a real place.
package scenario

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Line is a group of paths with one meaning.
type Line struct {
	Layer  string
	Colour drawing.Colour
	Paths  []geometry.Path
	// Mirrored groups are written with a transform that turns them over; only
	// SVG files can say so.
	Mirrored bool
}

// Sheet is a drawing at true size in mm, y up.
type Sheet struct {
	Lines []Line
}

// The college's colours.
func teal() drawing.Colour   { return drawing.Colour{R: 0x00, G: 0x7c, B: 0x91} }
func violet() drawing.Colour { return drawing.Colour{R: 0x7a, G: 0x3e, B: 0xb1} }
func slate() drawing.Colour  { return drawing.Colour{R: 0x4a, G: 0x55, B: 0x68} }

// offViolet is about ΔE00 3 to 4 off violet.
func offViolet() drawing.Colour { return drawing.Colour{R: 0x82, G: 0x48, B: 0xb4} }

func grey() drawing.Colour { return drawing.Colour{R: 0x90, G: 0x90, B: 0x90} }

func cut(p ...geometry.Path) Line  { return Line{Layer: "CUT", Colour: teal(), Paths: p} }
func fold(p ...geometry.Path) Line { return Line{Layer: "FOLD", Colour: violet(), Paths: p} }
func pen(p ...geometry.Path) Line  { return Line{Layer: "PEN", Colour: slate(), Paths: p} }

// page returns the frame of a sheet of w × h mm whose lower left corner is
// the origin.
func page(w, h float64) Line {
	return Line{Layer: "PAGE", Colour: grey(), Paths: []geometry.Path{rect(0, 0, w, h)}}
}

func rect(x, y, w, h float64) geometry.Path {
	return geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+w, y+h)}.Path()
}

// rounded returns a rectangle with corners of radius r.
func rounded(x, y, w, h, r float64) geometry.Path {
	b := math.Tan(math.Pi / 8) // a quarter turn
	p := geometry.Path{Start: geometry.Pt(x+r, y)}
	p.Segments = []geometry.Segment{
		geometry.LineTo(geometry.Pt(x+w-r, y)), geometry.ArcTo(b, geometry.Pt(x+w, y+r)),
		geometry.LineTo(geometry.Pt(x+w, y+h-r)), geometry.ArcTo(b, geometry.Pt(x+w-r, y+h)),
		geometry.LineTo(geometry.Pt(x+r, y+h)), geometry.ArcTo(b, geometry.Pt(x, y+h-r)),
		geometry.LineTo(geometry.Pt(x, y+r)), geometry.ArcTo(b, p.Start),
	}
	p.Closed = true
	return p
}

func ellipse(cx, cy, w, h float64) geometry.Path {
	return geometry.Circle(geometry.Pt(0, 0), 0.5).Transform(geometry.Scale(w, h).Then(geometry.Translate(cx, cy)))
}

func polygon(xy ...float64) geometry.Path {
	pts := make([]geometry.Point, len(xy)/2)
	for i := range pts {
		pts[i] = geometry.Pt(xy[2*i], xy[2*i+1])
	}
	return geometry.Polygon(pts...)
}

func line(x1, y1, x2, y2 float64) geometry.Path {
	return geometry.Polyline(geometry.Pt(x1, y1), geometry.Pt(x2, y2))
}

// Transform returns the sheet with every path under m.
func (s Sheet) Transform(m geometry.Affine) Sheet {
	out := Sheet{Lines: make([]Line, len(s.Lines))}
	for i, l := range s.Lines {
		l.Paths = transformed(l.Paths, m)
		out.Lines[i] = l
	}
	return out
}

// Bounds returns the box of all paths.
func (s Sheet) Bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, l := range s.Lines {
		b = b.Union(bounds(l.Paths))
	}
	return b
}
