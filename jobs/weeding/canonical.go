package weeding

import "knifedesk/jobs/artwork"

// Canonical brings all paths into the form in which they read back from text.
func (m *Map) Canonical() {
	m.Strokes = append([]artwork.Stroke(nil), m.Strokes...) // they may be the artwork's
	artwork.Canonical(m.Strokes)
	for i, p := range m.Bridges {
		m.Bridges[i] = p.Canonical()
	}
	for i := range m.Regions {
		r := &m.Regions[i]
		r.Outer = r.Outer.Canonical()
		for k, p := range r.Holes {
			r.Holes[k] = p.Canonical()
		}
	}
}
