package spoil

import (
	"knifedesk/jobs/workshop"
)

// paper is a size by name, in mm.
type paper struct {
	name string
	w, h float64
}

// papers are the rounded sizes of ISO 216 (check-values row 10).
var papers = [...]paper{
	{"A0", 841, 1189}, {"A1", 594, 841}, {"A2", 420, 594}, {"A3", 297, 420},
	{"A4", 210, 297}, {"A5", 148, 210}, {"A6", 105, 148},
}

// choosePage picks the page, its stock, and whether its frame is drawn and
// declared. A4 and A3 are the sheets of a workshop; the others are rarer.
func (m *maker) choosePage() {
	switch r := m.rng.Float64(); {
	case r < 0.5:
		m.page = papers[4]
	case r < 0.75:
		m.page = papers[3]
	default:
		m.page = papers[m.rng.IntN(len(papers))]
	}
	m.stock()
	if m.chance(0.5) {
		m.page.w, m.page.h = m.page.h, m.page.w
	}
	m.c.Truth.Framed = !m.chance(0.12)
	m.c.Truth.Intact = m.c.Truth.Framed
	if !m.c.Truth.Framed {
		m.note("no frame")
		return
	}
	if !m.chance(0.35) {
		return
	}
	m.c.Truth.Declared = true
	if m.c.Request.Stock.Form == workshop.Sheet && m.chance(0.5) && m.c.Request.Stock.NamedSize == m.page.name {
		m.c.Request.FrameIsSheet = true
		m.note("frame is the sheet")
		return
	}
	m.c.Request.Frame = m.page.name
	m.note("frame declared")
}

// stock picks what the work is cut from: mostly the sheet it was drawn for,
// else a roll that is wide enough, or the next larger sheet.
func (m *maker) stock() {
	at := 0
	for i, p := range papers {
		if p.name == m.page.name {
			at = i
		}
	}
	switch r := m.rng.Float64(); {
	case r < 0.7:
	case r < 0.85 && at > 0:
		at--
	default:
		m.c.Request.Stock = workshop.Stock{ID: "roll", Family: workshop.RemovableFilm, Form: workshop.Roll, WidthMM: 1220, UsableWidthMM: 1200, LengthMM: 25000}
		return
	}
	p := papers[at]
	m.c.Request.Stock = workshop.Stock{ID: "sheet", Family: workshop.LightCard, Form: workshop.Sheet, NamedSize: p.name, WidthMM: p.w, LengthMM: p.h}
}
