package weeding

import (
	"knifedesk/geometry"
)

// Pieces counts what is kept, without register marks: these stay on the liner too, and
// are nobody's piece. It costs O(regions × marks).
func (m *Map) Pieces() (count int) {
	var marks []geometry.Box
	for i := range m.Strokes {
		if isMark(m.Strokes[i]) {
			marks = append(marks, m.Strokes[i].Path.Bounds())
		}
	}
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() && !inOne(marks, r.Outer.Bounds()) {
			count++
		}
	}
	return count
}

// markSlack is how far the outline of a region may lie off the lines that it was found
// between, in mm.
const markSlack = 0.01

// inOne reports whether one of the boxes holds b.
func inOne(boxes []geometry.Box, b geometry.Box) bool {
	for _, box := range boxes {
		if box.Grow(markSlack).ContainsBox(b) {
			return true
		}
	}
	return false
}
