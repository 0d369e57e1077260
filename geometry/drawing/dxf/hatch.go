package dxf

import (
	"math"

	"knifedesk/geometry"
)

// hatchState follows the boundary paths of a HATCH, of which only the extent
// is kept: an area of pattern or colour is not cut, it is listed.
type hatchState struct {
	inside bool // between the number of paths (91) and the style (75)
	poly   bool // the path is a polyline
	edge   int  // type of the edge: 1 line, 2 arc, 3 ellipse, 4 spline
	p      geometry.Point
}

func (e *entity) hatchInteger(code, v int) {
	h := &e.hatch
	switch code {
	case 91:
		h.inside = true
	case 75:
		h.inside = false
	case 92:
		h.poly = v&2 != 0
	case 72:
		if !h.poly {
			h.edge = v
		}
	}
}

// hatchNumber widens the extent by the points of edges. Arcs count with their
// whole circle, ellipses with the square about them.
func (e *entity) hatchNumber(code int, v float64) {
	h := &e.hatch
	switch {
	case code >= 210:
		*e.normal.axis(code/10 - 21) = v
	case !h.inside:
	case code == 10 || code == 11:
		h.p.X, h.p.Y = v, math.NaN()
	case code == 20:
		h.p.Y = v
		if h.poly || h.edge != 2 {
			e.extent = e.extent.Include(h.p)
		}
	case code == 21 && h.edge == 3 && !h.poly:
		e.extent = e.extent.Grow(math.Hypot(h.p.X, v))
	case code == 21:
		e.extent = e.extent.Include(geometry.Point{X: h.p.X, Y: v})
	case code == 40 && h.edge == 2 && !h.poly && !math.IsNaN(h.p.Y):
		e.extent = e.extent.Union(geometry.BoxAround(h.p).Grow(math.Abs(v)))
	}
}
