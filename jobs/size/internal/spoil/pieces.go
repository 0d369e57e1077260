package spoil

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// namedPiece is a rectangle of a named size that is cut, such as a tag or a
// card smaller than the sheet, alone, holding lines or holding closed work.
func namedPiece(m *maker) {
	pieceLayers(m)
	pieceFormat(m)
	for {
		m.page = pick(m, seriesA()[4], seriesA()[5], seriesA()[5], seriesA()[6], seriesA()[6], sheet{"A7", 74, 105}, others()[2])
		anyStock(m)
		if m.stock.Form == workshop.Roll && m.chance(0.7) {
			continue // such pieces are mostly cut from card
		}
		if m.fits(m.page.w, m.page.h) && !m.isSheet(m.page.w, m.page.h) {
			break
		}
	}
	lieDown(m)
	placePage(m, false)
	drawPiece(m, m.page.w, m.page.h)
	if m.chance(0.2) {
		repeatPiece(m)
	}
}

// repeatPiece draws the piece several times side by side, as tags on a sheet.
func repeatPiece(m *maker) {
	one, n := m.figures, 1+m.rng.IntN(3)
	for i := range n {
		by := geometry.Translate(float64(i+1)*(m.page.w+m.between(2, 10)), 0)
		for _, f := range one {
			f.pts = slices.Clone(f.pts)
			for k := range f.pts {
				f.pts[k] = by.Apply(f.pts[k])
			}
			m.figures = append(m.figures, f)
		}
	}
	m.note("%d times", n+1)
	if t := &m.c.Truth; t.Class == Clear && !m.workFits() {
		m.is(Decidable, "several pieces that do not fit the stock as they lie")
	}
}

// pieceLayers puts all on one layer, mostly one that is cut.
func pieceLayers(m *maker) {
	m.workOn = pick(m, "CUT", "CUT", "CUT", "")
	m.frameOn = m.workOn
}

// pieceFormat states the right unit, mostly.
func pieceFormat(m *maker) {
	switch r := m.rng.Float64(); {
	case r < 0.6:
		metricFormat(m)
	case r < 0.85:
		statedFormat(m)
	default:
		chooseFormat(m)
	}
}

// drawPiece draws a rectangle that is cut, and what is in it and beside it, and
// judges it.
func drawPiece(m *maker, w, h float64) {
	m.add(cut, m.rect(0, 0, w, h))
	holds := pick(m, "nothing", "lines", "closed work", "closed work")
	switch holds {
	case "lines":
		for range 1 + m.rng.IntN(3) {
			y := m.between(0.1, 0.9) * h
			f := m.rect(0.1*w, y, 0.8*w, 0)
			f.pts, f.closed, f.layer = f.pts[:2], false, pick(m, "FOLD", m.workOn)
			m.add(cut, f)
		}
	case "closed work":
		drawClosed(m, 0.1*w, 0.1*h, 0.8*w, 0.8*h)
	}
	m.note("a piece of %.4g × %.4g that holds %s", w, h, holds)
	if m.chance(0.2) {
		m.c.Choices.Size.Frame = size.NoFrame
		m.note("the caller says that there is no frame")
	}
	judgePiece(m, holds == "closed work")
}

func judgePiece(m *maker, closed bool) {
	none := m.c.Choices.Size.Frame != ""
	switch {
	case !m.unit.stated():
		m.is(MustAsk, "no unit and no frame: a piece")
	case !m.workFits():
		m.is(Decidable, "a piece that does not fit the stock")
	case none:
		m.is(Clear, "the caller says that there is no frame, and the unit is stated")
	case closed:
		m.is(Decidable, "a named size by the file's own unit, on a cut layer, with closed work in it")
	case m.workOn != "CUT":
		m.is(Decidable, "a named size by the file's own unit, on no layer")
	default:
		m.is(Clear, "a named size by the file's own unit, smaller than the sheet, on a cut layer: a piece at its own size")
	}
}

// pageShaped is a rectangle with the shape of a page and no page's size: a
// piece that is cut, at the size the file says.
func pageShaped(m *maker) {
	pieceLayers(m)
	pieceFormat(m)
	anyStock(m)
	for {
		k := pick(m, 0.3, 1.0/3, 0.5, 0.6, m.between(0.2, 0.9), m.between(0.2, 0.9), pick(m, 0.97, 0.7))
		m.page = sheet{"", 210 * k, 297 * k}
		if m.chance(0.3) {
			m.page = sheet{"", 215.9 * k, 279.4 * k}
		}
		if len(m.readings(m.page.w, m.page.h, 0.6)) == 0 && m.fits(m.page.w, m.page.h) {
			break
		}
		anyStock(m)
	}
	lieDown(m)
	placePage(m, false)
	drawPiece(m, m.page.w, m.page.h)
	if t := &m.c.Truth; t.Class == Clear && m.c.Choices.Size.Frame == "" {
		m.is(Decidable, "the shape of a page, a unit that is stated, and no named cause")
	}
}

// plate is a rectangle of whole mm that has the shape of no page.
func plate(m *maker) {
	pieceLayers(m)
	statedFormat(m)
	for {
		anyStock(m)
		w := math.Round(m.between(30, 200))
		m.page = sheet{"", w, math.Round(w * pick(m, m.between(1, 1.1), m.between(1.95, 3)))}
		if m.fits(m.page.w, m.page.h) && !likeStock(m) && len(m.readings(m.page.w, m.page.h, 1)) == 0 {
			break
		}
	}
	lieDown(m)
	placePage(m, false)
	drawPiece(m, m.page.w, m.page.h)
	m.is(Clear, "a rectangle of no page's shape, and the unit is stated")
}

// platesMisread are one to three plates of whole mm, of no page's shape, written in points
// or pixels under a header that says mm.
func platesMisread(m *maker) {
	m.workOn, m.frameOn = "CUT", "CUT"
	metricFormat(m)
	m.mmPer = pick(m, point.mm(), pixel.mm())
	m.note("numbers of %g mm, the header says mm", m.mmPer)
	m.sheet(seriesA()[3])
	whole := func(v float64) bool { return math.Abs(math.Remainder(v/m.mmPer, 1)) < 0.06 }
	x := 0.0
	for range 1 + m.rng.IntN(3) {
		w := math.Round(m.between(20, 80))
		for whole(w) {
			w++
		}
		h := math.Round(w * m.between(1.05, 1.1))
		m.add(cut, m.rect(x, 0, w, h))
		if m.chance(0.6) {
			drawClosed(m, x+0.1*w, 0.1*h, 0.8*w, 0.8*h)
		}
		x += w + math.Round(m.between(2, 10))
		m.page.w, m.page.h = x, math.Max(m.page.h, h)
	}
	placePage(m, false)
	m.is(MustAsk, "a wrong header, and its plates have whole mm only in another unit")
}

// likeStock reports whether the page has about the shape of the stock.
func likeStock(m *maker) bool {
	a := math.Max(m.page.w, m.page.h) / math.Min(m.page.w, m.page.h)
	b := math.Max(m.stock.WidthMM, m.stock.LengthMM) / math.Min(m.stock.WidthMM, m.stock.LengthMM)
	return math.Abs(math.Log(a/b)) < math.Log(1.15)
}
