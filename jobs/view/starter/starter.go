// Package starter writes the files in which a drawing is begun: the frame of the
// sheet at true size, and an empty layer for all that can be done on the stock.
package starter

import (
	"errors"
	"fmt"
	"io"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/workshop"
)

// ErrNoLayer says that a convention names no layer or colour for the frame, or
// none for cuts.
var ErrNoLayer = errors.New("starter: the convention has no layer for the frame or for cuts")

// File is a drawing to begin with.
type File struct {
	title         string
	width, length float64
	layers        []layer
}

type layer struct {
	meaning.Layer
	paths []geometry.Path
}

// New lays out the file for a stock, whose frame is width × length mm. That of a
// roll, which has no size of its own and takes whole mm, has its size in the name of
// its layer. Notes are in it where the convention has a layer that is never cut. It
// fails with ErrNoLayer.
func New(s *workshop.Stock, c *workshop.Convention, width, length float64) (*File, error) {
	f := &File{title: fmt.Sprintf("%s, frame %s x %s mm", s.Name, number.Exact(width), number.Exact(length)), width: width, length: length}
	has := map[workshop.Meaning]bool{}
	for _, l := range meaning.Layers(c, s.Family) {
		if has[l.Means] = true; l.Means == workshop.MeansFrame {
			f.addFrame(l, s.Form == workshop.Roll)
		} else {
			f.layers = append(f.layers, layer{Layer: l})
		}
	}
	if !has[workshop.MeansFrame] || !has[workshop.MeansCut] {
		return nil, ErrNoLayer
	}
	for i := range f.layers {
		if f.layers[i].Means == workshop.MeansNothing {
			f.layers[i].paths = notes(f, s)
		}
	}
	return f, nil
}

func (f *File) addFrame(l meaning.Layer, sized bool) {
	if sized {
		l.Name = workshop.SizedLayer(l.Name, int(f.width), int(f.length))
	}
	f.layers = append(f.layers, layer{l, []geometry.Path{f.page().Path()}})
}

func (f *File) page() geometry.Box { return geometry.Box{Max: geometry.Pt(f.width, f.length)} }

// WriteSVG writes the file as SVG in mm, with a group for each layer.
func (f *File) WriteSVG(w io.Writer) error {
	doc := svg.Document{Title: f.title, Width: f.width, Height: f.length}
	for _, l := range f.layers {
		doc.Layers = append(doc.Layers, svg.Layer{Name: l.Name, Colour: l.Colour, Paths: l.paths})
	}
	return svg.Write(w, doc)
}

// WriteDXF writes the file as DXF in mm.
func (f *File) WriteDXF(w io.Writer) error {
	var layers []dxf.Layer
	for _, l := range f.layers {
		layers = append(layers, dxf.Layer{Name: l.Name, Colour: &l.Colour, Paths: l.paths})
	}
	sheet := dxf.Sheet{Box: f.page(), Comment: f.title}
	return dxf.WriteSheet(w, dxf.Millimetres, sheet, layers...)
}
