package spoil

import (
	"math"

	"knifedesk/geometry"
)

// unframed is work without a frame.
func unframed(m *maker) {
	chooseFormat(m)
	anyStock(m)
	side := math.Min(m.stock.WidthMM, 300) - 2
	m.page = sheet{"", m.between(0.4, 1) * side, m.between(0.4, 1) * side}
	wrong := m.chance(0.2)
	if wrong {
		mistakeUnit(m)
	}
	placePage(m, true)
	drawWork(m, 0, 0, m.page.w, m.page.h, 2+m.rng.IntN(6))
	drawClosed(m, 0, 0, m.page.w, m.page.h)
	if m.chance(0.4) {
		declare(m)
	}
	judgeUnframed(m, wrong)
}

func judgeUnframed(m *maker, wrong bool) {
	s, b := m.c.Choices.Size, m.cutBox()
	header := m.unit.mm() / m.mmPer
	switch {
	case !m.fits(b.Width(), b.Height()):
		m.is(Decidable, "the work does not fit the stock")
	case s.Unit != "" || s.Scale != 0 || s.KnownLength != nil:
		m.is(Clear, "unit, scale or length declared, no frame")
	case !m.unit.stated():
		m.is(MustAsk, "no unit and no frame")
	case !wrong:
		m.is(Clear, "the unit is stated, no frame")
	case !m.fits(b.Width()*header, b.Height()*header):
		m.is(MustAsk, "by the header the work does not fit the stock")
	default:
		m.is(Unspoken, "a wrong header, no frame, and nothing that contradicts it")
	}
}

// stretchedPage pulls one axis of a framed page by 0.1 to 10 percent.
func stretchedPage(m *maker) {
	for {
		m.figures, m.c.Truth.Notes = nil, m.c.Truth.Notes[:0]
		choosePage(m)
		chooseFormat(m)
		if m.chance(0.4) {
			mistakeUnit(m)
		}
		k := math.Exp(pick(m, -1.0, 1) * math.Exp(m.between(math.Log(0.001), math.Log(0.1))))
		if m.sx, m.sy = k, 1; m.chance(0.5) {
			m.sx, m.sy = 1, k
		}
		if len(m.readings(m.page.w, m.page.h, 0.3)) == 0 {
			break
		}
	}
	if m.chance(0.3) {
		m.c.Choices.Size.Frame = m.page.name
		m.note("frame given as %s", m.page.name)
	} else if m.unit.stated() && !m.offCut() {
		m.frameOn = "PAGE" // on a cut layer it could be a plate
	}
	m.note("%s", m.page.name)
	m.note("stretched by %.5f and %.5f", m.sx, m.sy)
	m.turn, m.canvas = 0, 0
	placePage(m, false)
	drawInside(m)
	drawFrame(m, 0, 0, m.page.w, m.page.h)
	m.is(Contradictory, "the axes of the frame differ")
}

// severalFrames is two or three framed pages in one file, all of which are
// meant, or one.
func severalFrames(m *maker) {
	chooseFormat(m)
	if !m.unit.stated() && m.c.Format == "dxf" {
		m.mmPer = pick(m, 1, 1, point.mm())
	}
	first := seriesA()[4+m.rng.IntN(2)]
	second := pick(m, first, first, seriesA()[3])
	stockFor(m, first)
	placePage(m, false)
	m.c.Truth.Several = true
	x, n := 0.0, 2+m.rng.IntN(2)
	meant := -1
	if m.chance(0.15) {
		meant = m.rng.IntN(n)
		m.note("page %d is meant", meant+1)
	}
	for i, s := range []sheet{first, second, first}[:n] {
		if i == 1 && second != first {
			m.note("pages of two sizes")
		}
		from := len(m.figures)
		drawWork(m, x+8, 8, s.w-16, s.h-16, 1+m.rng.IntN(4))
		drawClosed(m, x+8, 8, s.w-16, s.h-16)
		for k := range m.figures[from:] {
			if meant >= 0 && i != meant {
				m.figures[from+k].role = other
			}
		}
		drawFrame(m, x, 0, s.w, s.h)
		x += s.w + m.between(5, 40)
		m.page.w, m.page.h = x, math.Max(m.page.h, s.h)
	}
	m.is(MustAsk, "several frames in one file")
}

// nestedPart places a part of the work at the ratio of two units, which is right.
func nestedPart(m *maker) {
	m.page = seriesA()[3+m.rng.IntN(2)]
	m.sheet(m.page)
	metricFormat(m)
	m.c.Format = "dxf"
	m.frameOn = "PAGE"
	placePage(m, false)
	drawInside(m)
	drawFrame(m, 0, 0, m.page.w, m.page.h)
	m.nested = pick(m, 25.4, 1/25.4, 10, 0.1)
	m.note("a part placed at %g", m.nested)
	for i := range m.figures {
		f := &m.figures[i]
		f.group = f.role == cut && i%2 == 0
	}
	m.is(MustAsk, "parts at the ratio of two units")
}

// background is a filled page as programs draw charts on it, off any paper's
// size or on it.
func background(m *maker) {
	m.workOn, m.frameOn = "", ""
	m.c.Format, m.unit = "pdf", point
	if m.chance(0.5) {
		m.c.Format, m.unit = "svg", pick(m, point, millimetre)
	}
	m.mmPer = m.unit.mm()
	paper := pick(m, seriesA()[4], seriesA()[3], others()[3])
	paper.w, paper.h = paper.w+m.between(-0.5, 0.5), paper.h+m.between(-0.5, 0.5)
	m.page = pick(m, paper, paper, sheet{"", 152.4, 101.6}, sheet{"", 160, 120})
	stockFor(m, seriesA()[2])
	lieDown(m)
	drawInside(m)
	if m.chance(0.5) {
		drawAxes(m)
	}
	m.add(ground, m.rect(0, 0, m.page.w, m.page.h))
	m.note("a white background of %.2f × %.2f mm", m.page.w, m.page.h)
	if m.fits(m.page.w, m.page.h) {
		m.is(Clear, "the unit is stated, and a background is no frame")
	} else {
		m.is(Decidable, "the work or its background does not fit the stock")
	}
}

// drawAxes draws the field of a chart, its border and ticks.
func drawAxes(m *maker) {
	in := m.between(0.08, 0.15)
	field := m.rect(in*m.page.w, in*m.page.h, (1-2*in)*m.page.w, (1-2*in)*m.page.h)
	m.note("a chart")
	m.add(ground, field)
	m.add(cut, field)
	for i := range 5 {
		x := field.pts[0].X + float64(i+1)/6*(1-2*in)*m.page.w
		m.add(cut, figure{layer: m.workOn, pts: []geometry.Point{geometry.Pt(x, field.pts[0].Y), geometry.Pt(x, field.pts[0].Y-1.2)}})
	}
}

// marginFrame is a frame some way inside the page. On a layer that is cut only
// the page of the file tells it from a plate; on one without a meaning the
// artwork asks what it is.
func marginFrame(m *maker) {
	m.page = seriesA()[3+m.rng.IntN(2)]
	m.sheet(m.page)
	for statedFormat(m); m.c.Format == "dxf" && !m.offCut(); {
		statedFormat(m)
	}
	lieDown(m)
	in := pick(m, 5.0, 10, 15, m.between(4, 20))
	m.note("margin of %.1f mm", in)
	drawWork(m, in+4, in+4, m.page.w-2*in-8, m.page.h-2*in-8, 1+m.rng.IntN(5))
	drawClosed(m, in+4, in+4, m.page.w-2*in-8, m.page.h-2*in-8)
	drawFrame(m, in, in, m.page.w-2*in, m.page.h-2*in)
	m.is(Decidable, "a frame inside the page's margins")
	leaveOpen(m)
}

// leaveOpen leaves it to a question about lines what a frame is that has a layer without
// a meaning.
func leaveOpen(m *maker) {
	for i := range m.figures {
		if f := &m.figures[i]; f.role == frame && m.offCut() && !m.onFrameLayer() {
			f.role = either
		}
	}
}

// declaredLength is work, framed or not, with a true width or height, and strays.
func declaredLength(m *maker) {
	if m.chance(0.5) {
		drawPage(m)
	} else {
		chooseFormat(m)
		anyStock(m)
		m.page = sheet{"", m.between(60, 140), m.between(60, 140)}
		rescaleAnyhow(m)
		placePage(m, true)
		drawWork(m, 0, 0, m.page.w, m.page.h, 1+m.rng.IntN(5))
		drawClosed(m, 0, 0, m.page.w, m.page.h)
	}
	giveLength(m)
	if len(m.c.Truth.FrameSides) > 0 {
		judgeDeclared(m)
	} else {
		judgeUnframed(m, false)
	}
}

// rescaleAnyhow rescales what has no frame by any factor.
func rescaleAnyhow(m *maker) {
	if m.chance(0.5) {
		m.mmPer *= math.Exp(m.between(math.Log(0.2), math.Log(5)))
	}
	m.shift = geometry.Point{}
}
