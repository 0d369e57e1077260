package spoil

import "math"

// chooseFormat picks the file's format and what its header says.
func chooseFormat(m *maker) {
	m.c.Format = pick(m, "dxf", "dxf", "svg", "svg", "pdf")
	switch m.c.Format {
	case "dxf":
		m.unit = pick(m, silent, silent, millimetre, millimetre, inch, centimetre)
	case "svg":
		m.unit = pick(m, pixel, pixel, millimetre, millimetre, inch, centimetre, point)
	case "pdf":
		m.unit = point
	}
	m.mmPer = m.unit.mm()
}

// statedFormat is a format whose header states its unit, and rightly.
func statedFormat(m *maker) {
	for chooseFormat(m); !m.unit.stated(); {
		chooseFormat(m)
	}
}

// metricFormat is a format whose header states mm, and rightly.
func metricFormat(m *maker) {
	m.c.Format, m.unit, m.mmPer = pick(m, "dxf", "svg"), millimetre, 1
}

// mistakeUnit takes one unit for another: the numbers are meant in it, whatever
// the header says.
func mistakeUnit(m *maker) {
	meant := m.unit
	for meant == m.unit || meant.mm() == m.unit.mm() {
		meant = pick(m, millimetre, millimetre, millimetre, centimetre, inch, point, point, pixel, pixel, old)
	}
	m.mmPer = meant.mm()
	m.note("numbers in %s, the header says %q", meant, m.unit)
}

// rescale rescales a rectangle of w by h mm by a factor that no cause explains.
func rescale(m *maker, w, h float64) {
	k := m.between(0.94, 0.995)
	if m.chance(0.4) {
		k = math.Exp(m.between(math.Log(0.2), math.Log(5)))
	}
	for m.mmPer = m.unit.mm() / k; len(m.readings(w, h, 0.6)) > 0; m.mmPer = m.unit.mm() / k {
		k = math.Exp(m.between(math.Log(0.2), math.Log(5)))
	}
	m.note("rescaled by %.5f", k)
}

// placePage moves and turns the drawing, and puts it on a page of its own. Files
// without pages lie anywhere.
func placePage(m *maker, turns bool) {
	switch {
	case m.chance(0.15):
		m.turn = pick(m, 90.0, 180.0, 270.0)
		m.note("turned by %g°", m.turn)
	case turns && m.chance(0.1):
		m.turn = m.between(-180, 180)
		m.note("turned by %.1f°", m.turn)
	}
	if m.c.Format == "dxf" && m.chance(0.5) {
		m.shift.X, m.shift.Y = m.between(-400, 400), m.between(-400, 400)
	}
	if m.c.Format != "dxf" && m.chance(0.3) {
		m.canvas = m.between(5, 60)
		m.note("page %.0f mm wider", m.canvas)
	}
}

// placeAtScale places all that is drawn at a scale, as when a drawing is inserted into
// another one.
func placeAtScale(m *maker) {
	if m.nested > 0 || !m.chance(0.15) {
		return
	}
	m.nested = pick(m, 1, 0.5, 2, 25.4, 1/25.4, m.between(0.3, 3))
	m.note("all placed at %.5g", m.nested)
	for i := range m.figures {
		m.figures[i].group = true
	}
}

// declare lets the caller say something right about this drawing, of which
// the frame may be one where it has a name.
func declare(m *maker, frames ...string) {
	s := &m.c.Choices.Size
	m.declared = true
	switch r := m.rng.IntN(4); {
	case r <= 1 && len(frames) > 0:
		s.Frame = frames[m.rng.IntN(len(frames))]
		m.note("frame given as %s", s.Frame)
	case r == 2 && callersUnit(m) != "":
		s.Unit = callersUnit(m)
		m.note("unit given as %s", s.Unit)
	case r == 3:
		s.Scale = m.mmPer
		m.note("scale given as %g", s.Scale)
	default:
		giveLength(m)
	}
}

// callersUnit is what the numbers of the file are meant in, as a request names
// it; empty where it has no name.
func callersUnit(m *maker) string {
	for _, u := range [...]unit{millimetre, centimetre, metre, inch, point, pixel} {
		switch {
		case !same(u.mm(), m.mmPer):
		case u == inch:
			return "inch"
		default:
			return string(u)
		}
	}
	return ""
}
