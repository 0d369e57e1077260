package planar

import (
	"sync"

	"knifedesk/geometry"
)

// Line is a straight line to arrange, in mm. Source is the caller's number
// for what drew it; several lines may share one.
type Line struct {
	A, B   geometry.Point
	Source int32
}

// Map is the plane as cut up by lines. It does not change once made, and may
// be read from several goroutines.
type Map struct {
	// Edges lie between vertices, meet only there, and are all different.
	Edges []Edge
	// Faces are the cells. Faces[0] is the unbounded one; it has no outer ring.
	Faces []Face

	grid        grid
	nodes       []node
	sourceStart []int32 // by edge, one more than edges
	sources     []int32
	against     []bool  // by use: the line runs from To to From
	ringStart   []int32 // by ring, one more than rings
	halves      []HalfEdge
	holeStart   []int32 // by face, one more than faces
	holes       []Ring

	locating  sync.Mutex
	locator   *locator // nil until somebody asks where a point lies
	grouping  sync.Once
	component []int32 // by vertex
	count     int
}

// Edge is a straight piece of the lines between two vertices.
type Edge struct {
	From, To    int32 // vertices
	Left, Right int32 // faces, as seen on the way from From to To
	Role        Role
}

// Role says what an edge does for the faces.
type Role uint8

// The roles. An edge that bounds nothing has the same face on both sides and
// lies on no ring.
const (
	Bounding Role = iota // lies between two faces
	Dangling             // on a tail: taking off loose ends again and again takes it away
	Cut                  // joins two parts of a drawing that would fall apart without it
)

// Ring indexes a closed run of edges that visits no vertex twice. The face it
// belongs to lies on its left: outer rings run anticlockwise, holes clockwise.
type Ring int32

// NoRing is the outer ring of the unbounded face.
const NoRing Ring = -1

// Face is a cell: an open, connected part of the plane without lines.
type Face struct {
	Outer Ring
	// Area is the area in mm² without the holes; 0 for the unbounded face.
	Area float64
}

// NumVertices returns the number of vertices.
func (m *Map) NumVertices() int { return len(m.nodes) }

// Point returns the position of vertex v in mm.
func (m *Map) Point(v int32) geometry.Point { return m.grid.point(m.nodes[v]) }

// Sources returns the sources of the lines that run along the edge, one for
// each use, in the order of the lines. The caller must not change the slice.
func (m *Map) Sources(edge int32) []int32 {
	return m.sources[m.sourceStart[edge]:m.sourceStart[edge+1]]
}

// Forward reports whether the line of the edge's use-th source runs from From
// to To.
func (m *Map) Forward(edge int32, use int) bool {
	return !m.against[int(m.sourceStart[edge])+use]
}

// Turns returns how many more of the lines along the edge run from From to To
// than back: the difference of the winding numbers of Left and Right.
func (m *Map) Turns(edge int32) int {
	turns := 0
	for _, against := range m.against[m.sourceStart[edge]:m.sourceStart[edge+1]] {
		if against {
			turns--
		} else {
			turns++
		}
	}
	return turns
}

// Holes returns the rings that bound face from inside. Where parts of a
// drawing touch in a point, each simple ring counts as one hole. The caller
// must not change the slice.
func (m *Map) Holes(face int32) []Ring {
	return m.holes[m.holeStart[face]:m.holeStart[face+1]]
}

// NumRings returns the number of rings of all faces.
func (m *Map) NumRings() int { return len(m.ringStart) - 1 }

// HalfEdges returns the sides of edges that make up the ring, in order, the
// ring's face on their left. The caller must not change the slice.
func (m *Map) HalfEdges(r Ring) []HalfEdge {
	return m.halves[m.ringStart[r]:m.ringStart[r+1]]
}

// RingFace returns the face to which the ring belongs.
func (m *Map) RingFace(r Ring) int32 { return m.Face(m.halves[m.ringStart[r]]) }

// Points returns the corners of the ring in order, the first not repeated.
func (m *Map) Points(r Ring) []geometry.Point {
	halves := m.HalfEdges(r)
	pts := make([]geometry.Point, len(halves))
	for i, h := range halves {
		pts[i] = m.Point(m.Start(h))
	}
	return pts
}

// Face returns the face to the left of h.
func (m *Map) Face(h HalfEdge) int32 {
	if h&1 == 0 {
		return m.Edges[h>>1].Left
	}
	return m.Edges[h>>1].Right
}

// twiceArea returns twice the signed area of the ring in square grid steps.
func (m *Map) twiceArea(ring []HalfEdge) (area int64) {
	for _, h := range ring {
		p, q := m.nodes[m.Start(h)], m.nodes[m.End(h)]
		area += int64(p.x)*int64(q.y) - int64(p.y)*int64(q.x)
	}
	return area
}

// Length returns the summed length of all edges in mm, each counted once.
func (m *Map) Length() float64 {
	sum := 0.0
	for i := range m.Edges {
		sum += m.EdgeLength(int32(i))
	}
	return sum
}

// EdgeLength returns the length of the edge in mm.
func (m *Map) EdgeLength(edge int32) float64 {
	e := &m.Edges[edge]
	return m.Point(e.From).Dist(m.Point(e.To))
}
