package spoil

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/size"
)

// knownLength gives the true width or height of the work, or its longest line.
func (m *maker) knownLength() {
	of := pick(m, size.Width, size.Height)
	b := m.cutBox()
	k := &size.KnownLength{Of: of, MM: b.Width()}
	if of == size.Height {
		k.MM = b.Height()
	}
	if math.Min(b.Width(), b.Height()) < 2 {
		return // a flat drawing has no height
	}
	m.c.Choices.Size.KnownLength = k
	m.note("%s given as %.4f mm", of, k.MM)
}

// cutBox is the box of what is cut, as it lies in the file.
func (m *maker) cutBox() geometry.Box {
	turn, b := geometry.Rotate(m.turn*math.Pi/180), geometry.EmptyBox()
	for i := range m.figures {
		if m.figures[i].role == cut {
			b = b.Union(m.figures[i].bounds(turn))
		}
	}
	return b
}
