package spoil

// kind is one way of drawing and spoiling.
type kind struct {
	name string
	draw func(*maker)
}

// kinds lists the ways in turn; those that are met more often stand there more
// than once.
func kinds() []kind {
	framed := kind{"a framed page", framedPage}
	given := kind{"a framed page, declared", declaredPage}
	piece := kind{"a piece of a named size", namedPiece}
	bare := kind{"no frame", unframed}
	return []kind{
		framed, given, piece, bare,
		{"a rectangle of a page's shape", pageShaped},
		framed, {"a stretched page", stretchedPage},
		framed, {"several frames", severalFrames},
		piece, bare,
		{"a plate", plate},
		{"plates to measure, a wrong header", platesMisread},
		given, {"a declared length beside strays", declaredLength},
		framed, {"a part placed at another scale", nestedPart},
		{"a background", background},
		framed, {"a margin frame", marginFrame},
		given, {"a named size with work beside it", besideFrame},
		{"two outlines", twoOutlines},
		{"a size given twice", saidTwice},
		{"a page of no paper's size", ownPage},
		{"a starter file saved again", savedAgain}, {"saved by another program", savedBare},
	}
}

// choosePage picks the page: A4 and A3 are the sheets of a workshop, the
// others are rarer.
func choosePage(m *maker) {
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
	stockFor(m, m.page)
	lieDown(m)
}

// lieDown turns the page on its side half of the time.
func lieDown(m *maker) {
	if m.chance(0.5) {
		m.page.w, m.page.h = m.page.h, m.page.w
	}
}

// loseUnit loses the unit of a page in one of the ways, or in none.
func loseUnit(m *maker) {
	switch r := m.rng.Float64(); {
	case r < 0.35:
	case r < 0.75:
		mistakeUnit(m)
	default:
		rescale(m, m.page.w, m.page.h)
	}
}

// usualStock takes the sheet of the page in most of the cases that only the stock
// can tell: people mostly draw a page for what they will cut.
func usualStock(m *maker) {
	w, h := m.page.w, m.page.h
	open := len(m.readings(w, h, rivalMM)) == 0 || same(m.mmPer, m.unit.mm()) && !m.offCut()
	if open && m.chance(0.7) {
		m.sheet(m.page)
	}
}

// drawInside draws work on the page, well within it.
func drawInside(m *maker) {
	drawWork(m, 8, 8, m.page.w-16, m.page.h-16, 1+m.rng.IntN(7))
	drawClosed(m, 8, 8, m.page.w-16, m.page.h-16)
}

func framedPage(m *maker) {
	drawPage(m)
	judgePage(m)
}

// drawPage draws a page with its frame, anew where the truth could not be told
// from another.
func drawPage(m *maker) {
	for {
		m.figures, m.c.Truth.Notes, m.c.Truth.FrameSides = nil, m.c.Truth.Notes[:0], nil
		m.turn, m.canvas, m.shift.X, m.shift.Y = 0, 0, 0, 0
		choosePage(m)
		chooseFormat(m)
		loseUnit(m)
		usualStock(m)
		placePage(m, true)
		if !misleading(m, m.page.w, m.page.h) {
			break
		}
	}
	m.note("%s", m.page.name)
	drawInside(m)
	if m.chance(0.1) && m.offCut() {
		m.rounded = m.between(2, 12)
		m.note("corners rounded by %.1f mm", m.rounded)
	}
	drawFrame(m, 0, 0, m.page.w, m.page.h)
}

// misleading reports whether the file says, by its own unit, that a rectangle
// is another size than it is: nobody could tell.
func misleading(m *maker, w, h float64) bool {
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

func declaredPage(m *maker) {
	drawPage(m)
	declare(m, namesOf(m)...)
	judgeDeclared(m)
}
