package spoil

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/size"
)

// giveLength gives the true width or height of the work, or its longest line.
func giveLength(m *maker) {
	if line := longestLine(m); line > 5 && m.chance(0.2) {
		m.c.Choices.Size.KnownLength = &size.KnownLength{Of: size.LongestLine, MM: line}
		m.note("longest line given as %.4f mm", line)
		return
	}
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

// longestLine is the length of the longest straight side of the work; 0 where the
// nearest to it is nearly as long, so that a line in two pieces could be meant.
func longestLine(m *maker) float64 {
	first, second := 0.0, 0.0
	for _, f := range m.figures {
		if f.role != cut || f.r > 0 {
			continue
		}
		n := len(f.pts)
		for i, p := range f.pts {
			if i == 0 && !f.closed {
				continue
			}
			before := f.pts[(i+n-1)%n]
			l := p.Dist(before)
			if on := f.pts[(i+1)%n]; n > 2 && on.Sub(p).Unit().Dot(p.Sub(before).Unit()) > 0.999 {
				second = math.Max(second, before.Dist(on)) // nearly one line: either could be meant
			}
			if l > first {
				first, second = l, first
			} else if l != first {
				second = math.Max(second, l)
			}
		}
	}
	if second > 0.98*first {
		return 0
	}
	return first
}
