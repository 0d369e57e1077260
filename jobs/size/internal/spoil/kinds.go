package spoil

// kind is one way of drawing and spoiling.
type kind struct {
	name string
	draw func(*maker)
}

// kinds lists the ways in turn; those that are met more often stand there more
// than once.
func kinds() []kind {
	framed := kind{"a framed page", (*maker).framedPage}
	given := kind{"a framed page, declared", (*maker).declaredPage}
	piece := kind{"a piece of a named size", (*maker).namedPiece}
	bare := kind{"no frame", (*maker).unframed}
	return []kind{
		framed, given, piece, bare,
		{"a rectangle of a page's shape", (*maker).pageShaped},
		framed, {"a stretched page", (*maker).stretchedPage},
		framed, {"several frames", (*maker).severalFrames},
		piece, bare,
		{"a plate", (*maker).plate},
		given, {"a declared length beside strays", (*maker).declaredLength},
		framed, {"a part placed at another scale", (*maker).nestedPart},
		{"a background", (*maker).background},
		framed, {"a margin frame", (*maker).marginFrame},
		given,
	}
}

// choosePage picks the page: A4 and A3 are the sheets of a workshop, the
// others are rarer.
func (m *maker) choosePage() {
	switch r := m.rng.Float64(); {
	case r < 0.5:
		m.page = seriesA()[4]
	case r < 0.7:
		m.page = seriesA()[3]
	case r < 0.85:
		m.page = seriesA()[1+m.rng.IntN(6)]
	default:
		m.page = others()[m.rng.IntN(5)]
	}
	m.stockFor(m.page)
	m.lieDown()
}

// lieDown turns the page on its side half of the time.
func (m *maker) lieDown() {
	if m.chance(0.5) {
		m.page.w, m.page.h = m.page.h, m.page.w
	}
}

// spoil loses the unit of a page in one of the ways, or in none.
func (m *maker) spoil() {
	switch r := m.rng.Float64(); {
	case r < 0.35:
	case r < 0.75:
		m.mistaken()
	default:
		m.unnamed(m.page.w, m.page.h)
	}
}

// usual takes the sheet of the page in most of the cases that only the stock
// can tell: people mostly draw a page for what they will cut.
func (m *maker) usual() {
	w, h := m.page.w, m.page.h
	open := len(m.readings(w, h, rivalMM)) == 0 || same(m.mmPer, m.unit.mm()) && !m.offCut()
	if open && m.chance(0.7) {
		m.sheet(m.page)
	}
}

// inside draws work on the page, well within it.
func (m *maker) inside() {
	m.work(8, 8, m.page.w-16, m.page.h-16, 1+m.rng.IntN(7))
	m.closedWork(8, 8, m.page.w-16, m.page.h-16)
}

func (m *maker) framedPage() {
	m.drawPage()
	m.judgePage()
}

// drawPage draws a page with its frame, anew where the truth could not be told
// from another.
func (m *maker) drawPage() {
	for {
		m.figures, m.c.Truth.Notes, m.c.Truth.FrameSides = nil, m.c.Truth.Notes[:0], nil
		m.turn, m.canvas, m.shift.X, m.shift.Y = 0, 0, 0, 0
		m.choosePage()
		m.format()
		m.spoil()
		m.usual()
		m.place(true)
		if !m.misleading(m.page.w, m.page.h) {
			break
		}
	}
	m.note("%s", m.page.name)
	m.inside()
	m.rounded = m.chance(0.1) && m.offCut()
	m.frameOf(0, 0, m.page.w, m.page.h)
}

// misleading reports whether the file says, by its own unit, that a rectangle
// is another size than it is: nobody could tell.
func (m *maker) misleading(w, h float64) bool {
	if same(m.mmPer, m.unit.mm()) {
		return false
	}
	for _, r := range m.readings(w, h, 0.6) {
		if same(r.factor, m.unit.mm()) {
			return true
		}
	}
	return false
}

func (m *maker) declaredPage() {
	m.drawPage()
	m.declare(m.names()...)
	m.judgeDeclared()
}
