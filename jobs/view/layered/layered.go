// Package layered writes drawings that people open and draw on: a page at true
// size in mm, with a layer for each thing that lines can mean.
package layered

import (
	"io"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
)

// File is a drawing in layers.
type File struct {
	Title         string  // one line
	Says          string  // what whoever opens it has to know; one line, may be empty
	Width, Length float64 // of the page, mm
	Layers        []Layer
}

// Layer is a named layer with its lines, in mm and with y up from the lower left
// corner of the page.
type Layer struct {
	Name   string
	Colour drawing.Colour
	Paths  []geometry.Path
}

// WriteSVG writes the file as SVG in mm, with a group for each layer.
func (f *File) WriteSVG(w io.Writer) error {
	doc := svg.Document{Title: f.Title, Description: f.Says, Width: f.Width, Height: f.Length}
	for _, l := range f.Layers {
		doc.Layers = append(doc.Layers, svg.Layer{Name: l.Name, Colour: l.Colour, Paths: l.Paths})
	}
	return svg.Write(w, doc)
}

// WriteDXF writes the file as DXF in mm.
func (f *File) WriteDXF(w io.Writer) error {
	var layers []dxf.Layer
	for _, l := range f.Layers {
		layers = append(layers, dxf.Layer{Name: l.Name, Colour: &l.Colour, Paths: l.Paths})
	}
	sheet := dxf.Sheet{Box: geometry.Box{Max: geometry.Pt(f.Width, f.Length)}, Comment: f.Title}
	if f.Says != "" {
		sheet.Comment += ". " + f.Says
	}
	return dxf.WriteSheet(w, dxf.Millimetres, sheet, layers...)
}
