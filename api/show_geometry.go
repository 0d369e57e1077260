package api

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

func showPoint(p geometry.Point) Point { return Point{X: p.X, Y: p.Y} }

func showBox(b geometry.Box) Box { return Box{Min: showPoint(b.Min), Max: showPoint(b.Max)} }

func showMatrix(m geometry.Affine) Matrix { return Matrix{m.A, m.B, m.C, m.D, m.E, m.F} }

func showPath(p geometry.Path) PathData { return p.String() }

// showColour returns "" for none.
func showColour(c *drawing.Colour) Colour {
	if c == nil {
		return ""
	}
	return c.String()
}

// readColour returns nil for "".
func readColour(text Colour) (*drawing.Colour, error) {
	if text == "" {
		return nil, nil
	}
	c := &drawing.Colour{}
	return c, c.UnmarshalText([]byte(text))
}
