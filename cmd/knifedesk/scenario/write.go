package scenario

import (
	"bytes"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
)

// SVG writes the sheet as an SVG file that says its numbers are mm.
func (s Sheet) SVG() ([]byte, error) {
	b := s.Bounds()
	doc := svg.Document{Width: b.Max.X + 10, Height: b.Max.Y + 10}
	for _, l := range s.Lines {
		doc.Layers = append(doc.Layers, svg.Layer{Name: l.Layer, Colour: l.Colour, Paths: l.Paths})
	}
	var buf bytes.Buffer
	if err := svg.Write(&buf, doc); err != nil {
		return nil, err
	}
	text := buf.Bytes()
	for _, l := range s.Lines {
		if l.Mirrored {
			group := fmt.Sprintf("<g id=%q", l.Layer)
			turned := fmt.Sprintf("%s transform=\"translate(%g 0) scale(-1 1)\"", group, b.Min.X+b.Max.X)
			text = bytes.Replace(text, []byte(group), []byte(turned), 1)
		}
	}
	return text, nil
}

// DXF writes the sheet as a DXF file that says its numbers are mm.
func (s Sheet) DXF() ([]byte, error) {
	layers := make([]dxf.Layer, 0, len(s.Lines))
	for _, l := range s.Lines {
		layers = append(layers, dxf.Layer{Name: l.Layer, Colour: &l.Colour, Paths: l.Paths})
	}
	var buf bytes.Buffer
	err := dxf.Write(&buf, dxf.Millimetres, layers...)
	return buf.Bytes(), err
}

// Bytes writes the sheet in the format svg or dxf.
func (s Sheet) Bytes(format string) ([]byte, error) {
	switch format {
	case "svg":
		return s.SVG()
	case "dxf":
		return s.DXF()
	}
	return nil, fmt.Errorf("scenario: there is no format %q", format)
}

// What a drawing program does to numbers on the way.
const (
	PointsForMM = 72 / 25.4 // points written, mm read
	PixelsForMM = 96 / 25.4 // pixels written, mm read
	InchesForMM = 1 / 25.4  // inches written, mm read
	CentimForMM = 0.1       // centimetres written, mm read
)

// Scaled returns the sheet with all numbers multiplied by k.
func (s Sheet) Scaled(k float64) Sheet { return s.Transform(geometry.Scale(k, k)) }

// Stretched returns the sheet stretched along x alone.
func (s Sheet) Stretched(k float64) Sheet { return s.Transform(geometry.Scale(k, 1)) }

// LooseFrame returns the sheet with its frame drawn as four separate lines, in
// no order and with their ends turned about.
func (s Sheet) LooseFrame() Sheet {
	out := Sheet{Lines: append([]Line(nil), s.Lines...)}
	for i, l := range out.Lines {
		if l.Layer != "PAGE" {
			continue
		}
		c := l.Paths[0].Bounds().Corners()
		l.Paths = []geometry.Path{
			geometry.Polyline(c[2], c[3]), geometry.Polyline(c[1], c[0]),
			geometry.Polyline(c[3], c[0]), geometry.Polyline(c[2], c[1]),
		}
		out.Lines[i] = l
	}
	return out
}
