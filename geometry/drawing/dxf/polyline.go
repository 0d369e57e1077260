package dxf

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Flags of a POLYLINE and of its vertices.
const (
	polyClosed    = 1
	polySplineFit = 4
	polySpatial   = 8
	polyMesh      = 16
	polyFaces     = 64

	vertexFrame = 16 // control point of a fitted spline, not on the curve
)

// tracePolyline traces an LWPOLYLINE or POLYLINE. A fitted one holds the
// points of its curve beside the frame that controls it; the frame is not
// drawn.
func tracePolyline(t *tracer, e *entity, m *placement, placed bool) drawing.Code {
	flags := e.whole[0]
	if e.kind == polylineKind && flags&(polyMesh|polyFaces) != 0 {
		return drawing.SolidListed
	}
	corners := e.vertices
	if e.kind == polylineKind && flags&polySplineFit != 0 {
		corners = onCurve(corners)
	}
	if len(corners) < 2 {
		return drawing.ZeroLength
	}
	if e.kind == polylineKind && flags&polySpatial != 0 {
		t.move(m.flat(corners[0].at))
		for i := range corners[1:] {
			t.add(geometry.LineTo(m.flat(corners[i+1].at)))
		}
		t.finish(flags&polyClosed != 0)
	} else {
		traceCorners(t, corners, flags&polyClosed != 0)
		if placed || e.normal != up() {
			object := m.turned(e.normal)
			t.transform(object.plane(e.elevation()))
		}
	}
	if len(t.segs) == 0 {
		return drawing.ZeroLength
	}
	return ""
}

// elevation is the height of a polyline in its own plane.
func (e *entity) elevation() float64 {
	if e.kind == polylineKind {
		return e.at[0].z
	}
	return e.height
}

// onCurve returns the vertices that are not of the frame, or all where a file
// has nothing but the frame.
func onCurve(all []vertex) []vertex {
	var on []vertex
	for _, v := range all {
		if v.flags&vertexFrame == 0 {
			on = append(on, v)
		}
	}
	if len(on) == 0 {
		return all
	}
	return on
}

func traceCorners(t *tracer, corners []vertex, closed bool) {
	first := corners[0].at
	t.move(geometry.Point{X: first.x, Y: first.y})
	for i := 1; i < len(corners); i++ {
		p := corners[i].at
		t.bulged(corners[i-1].bulge, geometry.Point{X: p.x, Y: p.y})
	}
	if closed {
		t.bulged(corners[len(corners)-1].bulge, t.start)
	}
	t.finish(closed)
}

// bulged traces the segment to p with a bulge of any size: below 10⁻⁹ it is
// straight (it leaves its chord by less than that part of it), above 1 it is
// more than half a circle and comes in two halves, each of the quarter angle's
// tangent.
func (t *tracer) bulged(bulge float64, p geometry.Point) {
	const straight = 1e-9
	switch b := math.Abs(bulge); {
	case p == t.at:
	case b <= straight:
		t.add(geometry.LineTo(p))
	case b <= 1:
		t.add(geometry.ArcTo(bulge, p))
	default:
		half := math.Tan(math.Atan(bulge) / 2)
		middle := t.at.Lerp(p, 0.5).Sub(p.Sub(t.at).Perp().Mul(bulge / 2))
		t.add(geometry.ArcTo(half, middle))
		t.add(geometry.ArcTo(half, p))
	}
}

// transform moves what was traced. Only a map that bends circles needs new
// segments.
func (t *tracer) transform(a geometry.Affine) {
	arcs := false
	for i := range t.segs {
		arcs = arcs || t.segs[i].Kind == geometry.Arc
	}
	if arcs && !a.Similar() {
		p := t.path().Transform(a)
		t.start, t.at, t.segs = p.Start, p.End(), append(t.segs[:0], p.Segments...)
		return
	}
	sign := 1.0
	if a.Det() < 0 {
		sign = -1
	}
	t.start = a.Apply(t.start)
	for i := range t.segs {
		s := &t.segs[i]
		s.End, s.Bulge = a.Apply(s.End), sign*s.Bulge
	}
	t.at = t.path().End()
}
