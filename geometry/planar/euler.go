package planar

import "fmt"

// Components returns the number of connected parts of the drawing.
func (m *Map) Components() int {
	m.group()
	return m.count
}

// Component returns the number of the connected part to which vertex v belongs,
// from 0.
func (m *Map) Component(v int32) int32 {
	m.group()
	return m.component[v]
}

// group finds the connected parts by union-find.
func (m *Map) group() {
	m.grouping.Do(func() {
		parent := make([]int32, len(m.nodes))
		for v := range parent {
			parent[v] = int32(v)
		}
		root := func(v int32) int32 {
			for parent[v] != v {
				parent[v] = parent[parent[v]]
				v = parent[v]
			}
			return v
		}
		for i := range m.Edges {
			a, b := root(m.Edges[i].From), root(m.Edges[i].To)
			parent[max(a, b)] = min(a, b)
		}
		// A root is the lowest vertex of its part, so it is numbered first.
		m.component = make([]int32, len(parent))
		for v := range parent {
			if r := root(int32(v)); r == int32(v) {
				m.component[v] = int32(m.count)
				m.count++
			} else {
				m.component[v] = m.component[r]
			}
		}
	})
}

// Containers returns for every face the face in which its part of the drawing
// lies: 0 for parts that lie in no other, and for face 0 itself.
func (m *Map) Containers() []int32 {
	m.group()
	inside := make([]int32, m.count)
	for f := int32(1); f < int32(len(m.Faces)); f++ {
		own := m.Component(m.ringVertex(m.Faces[f].Outer))
		for _, r := range m.Holes(f) {
			if c := m.Component(m.ringVertex(r)); c != own {
				inside[c] = f
			}
		}
	}
	containers := make([]int32, len(m.Faces))
	for f := 1; f < len(containers); f++ {
		containers[f] = inside[m.Component(m.ringVertex(m.Faces[f].Outer))]
	}
	return containers
}

// ringVertex returns a vertex of the ring.
func (m *Map) ringVertex(r Ring) int32 { return m.Start(m.HalfEdges(r)[0]) }

// Euler checks the map against Euler's formula V − E + F = 1 + C, with the
// faces counted from the nested cycles and the connected parts by union-find,
// and the areas of the faces against those of the rings seen from outside.
// The two sums are of whole grid squares and must be equal to the last one.
// An error means a defect of this package.
func (m *Map) Euler() error {
	v, e, f, c := len(m.nodes), len(m.Edges), len(m.Faces), m.Components()
	if v-e+f != 1+c {
		return fmt.Errorf("planar: V − E + F = %d − %d + %d is not 1 + C = 1 + %d", v, e, f, c)
	}
	var faces, outside int64
	for i := int32(1); i < int32(f); i++ {
		if m.Faces[i].Outer == NoRing {
			return fmt.Errorf("planar: face %d has no outer ring", i)
		}
		faces += m.twiceArea(m.HalfEdges(m.Faces[i].Outer))
		for _, r := range m.Holes(i) {
			faces += m.twiceArea(m.HalfEdges(r))
		}
	}
	for _, r := range m.Holes(0) {
		outside -= m.twiceArea(m.HalfEdges(r))
	}
	if faces != outside {
		return fmt.Errorf("planar: faces cover %d half grid squares, the rings round them %d", faces, outside)
	}
	return nil
}
