package dxf

import (
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// shapeStore keeps shapes in large pieces of memory: a drawing of a hundred
// thousand lines is a few hundred allocations.
type shapeStore struct {
	shapes [][]drawing.Shape
	paints [][]paint
	segs   []geometry.Segment
	paths  []geometry.Path
}

const (
	shapePiece   = 1024
	segmentPiece = 4096
)

// add returns a new shape and its paint, to be filled.
func (s *shapeStore) add() (*drawing.Shape, *paint) {
	n := len(s.shapes)
	if n == 0 || len(s.shapes[n-1]) == cap(s.shapes[n-1]) {
		size := min(shapePiece, 16<<min(n, 6))
		s.shapes = append(s.shapes, make([]drawing.Shape, 0, size))
		s.paints = append(s.paints, make([]paint, 0, size))
		n++
	}
	shapes, paints := &s.shapes[n-1], &s.paints[n-1]
	*shapes = append(*shapes, drawing.Shape{})
	*paints = append(*paints, paint{})
	return &(*shapes)[len(*shapes)-1], &(*paints)[len(*paints)-1]
}

// keep copies what was traced.
func (s *shapeStore) keep(t *tracer) geometry.Path {
	n := len(t.segs)
	if cap(s.segs)-len(s.segs) < n {
		s.segs = make([]geometry.Segment, 0, max(n, min(segmentPiece, max(64, 2*cap(s.segs)))))
	}
	at := len(s.segs)
	s.segs = append(s.segs, t.segs...)
	return geometry.Path{Start: t.start, Segments: s.segs[at : at+n : at+n], Closed: t.closed}
}

// one returns a list that holds p alone.
func (s *shapeStore) one(p geometry.Path) []geometry.Path {
	if len(s.paths) == cap(s.paths) {
		s.paths = make([]geometry.Path, 0, min(shapePiece, max(16, 2*cap(s.paths))))
	}
	s.paths = append(s.paths, p)
	n := len(s.paths)
	return s.paths[n-1 : n : n]
}

// arena makes many short strings out of few allocations.
type arena struct{ b strings.Builder }

func (a *arena) keep(raw []byte) string {
	if a.b.Cap()-a.b.Len() < len(raw) {
		size := min(64<<10, max(512, 2*a.b.Cap()))
		a.b = strings.Builder{}
		a.b.Grow(max(size, len(raw)))
	}
	at := a.b.Len()
	a.b.Write(raw)
	return a.b.String()[at:]
}
