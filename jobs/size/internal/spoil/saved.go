package spoil

import (
	"fmt"
	"math"

	"knifedesk/geometry"
)

// saving is how a program writes what was drawn when it saves the file again. It
// changes where numbers stand in the file and nothing of what they draw.
type saving struct {
	on bool
	// SVG: a group, a viewport or a symbol round each figure, and the outermost
	// element, by number.
	wraps, root int
	// PDF: mm for one number over that of a point, the turn at which the page is
	// shown, clockwise, and whether its sheet is larger than what is shown of it.
	userUnit float64
	shown    float64
	cropped  bool
	// DXF: figures that are drawn as seen from below, and a layout with a title.
	below, titled bool
	// All: the last side of the frame is closed by a step of that many mm.
	crumb float64
}

// savedAgain is a starter file, framed on a layer of its own, in which somebody drew
// with another program.
func savedAgain(m *maker) {
	for {
		m.figures, m.c.Truth.Notes, m.c.Truth.FrameSides = nil, m.c.Truth.Notes[:0], nil
		m.turn, m.canvas, m.shift.X, m.shift.Y = 0, 0, 0, 0
		m.workOn, m.frameOn = "CUT", "PAGE"
		m.page = seriesA()[3+m.rng.IntN(2)]
		m.sheet(m.page)
		lieDown(m)
		chooseFormat(m)
		if m.chance(0.5) {
			mistakeUnit(m)
		}
		if !misleading(m, m.page.w, m.page.h) {
			break
		}
	}
	saveAgain(m)
	placePage(m, true)
	m.note("%s", m.page.name)
	drawInside(m)
	drawFrame(m, 0, 0, m.page.w, m.page.h)
	judgePage(m)
}

// savedBare is work without a frame whose unit the file states in the way of some program.
func savedBare(m *maker) {
	statedFormat(m)
	anyStock(m)
	side := math.Min(m.stock.WidthMM, 300) - 2
	m.page = sheet{"", m.between(0.4, 1) * side, m.between(0.4, 1) * side}
	saveAgain(m)
	placePage(m, true)
	drawWork(m, 0, 0, m.page.w, m.page.h, 2+m.rng.IntN(6))
	drawClosed(m, 0, 0, m.page.w, m.page.h)
	judgeUnframed(m, false)
}

// saveAgain picks the habits of the program.
func saveAgain(m *maker) {
	s := saving{on: true, userUnit: 1}
	switch m.c.Format {
	case "svg":
		s.wraps, s.root = m.rng.IntN(wraps), m.rng.IntN(roots)
		m.note("wrapped in way %d, outermost element %d", s.wraps, s.root)
	case "pdf":
		s.userUnit, s.shown, s.cropped = pick(m, 1, 2, 0.5, 10, m.between(0.2, 4)), pick(m, 0.0, 90, 180, 270), m.chance(0.5)
		m.mmPer *= s.userUnit
		m.note("user unit %.4g, shown turned by %g°, cropped: %t", s.userUnit, s.shown, s.cropped)
	case "dxf":
		s.below, s.titled = m.chance(0.4), m.chance(0.4)
		m.note("drawn from below: %t, a layout with a title: %t", s.below, s.titled)
	}
	if m.chance(0.3) {
		s.crumb = m.between(1e-7, 2e-3)
		m.note("the frame closed by a step of %.2g mm", s.crumb)
	}
	m.saved = s
}

// crumbled closes an outline by a step along its last side instead of at its start.
func (m *maker) crumbled(pts []geometry.Point) []geometry.Point {
	if m.saved.crumb == 0 {
		return pts
	}
	last, start := pts[len(pts)-1], pts[0]
	return append(pts, start.Lerp(last, m.saved.crumb/start.Dist(last)))
}

// The number of ways in which figures are wrapped, and in which pages are written.
const wraps, roots = 6, 6

// wrapped is an element that places what is in it so that after the map into it
// nothing has changed.
type wrapped struct {
	open, shut string
	into       geometry.Affine
}

// wrap picks an element for a figure. Its scale is the ratio of no two units.
func (m *maker) wrap(number int) wrapped {
	k := pick(m, m.between(0.3, 0.7), m.between(1.3, 2.2), m.between(4.1, 9))
	x, y := m.between(-60, 60), m.between(-60, 60)
	w, h := m.between(100, 900), m.between(100, 900)
	placed := geometry.Scale(k, k).Then(geometry.Translate(x, y))
	var e wrapped
	switch m.saved.wraps {
	case 1:
		e.open, e.shut = fmt.Sprintf(`<g transform="translate(%.17g %.17g) scale(%.17g)">`, x, y, k), "</g>"
	case 2: // the shorter side decides, and the longer is filled up on both sides
		vw, vh := w/k, h/k*m.between(0.3, 1)
		placed = geometry.Scale(k, k).Then(geometry.Translate(x, y+(h-vh*k)/2))
		e.open, e.shut = fmt.Sprintf(`<svg x="%.17g" y="%.17g" width="%.17g" height="%.17g" viewBox="0 0 %.17g %.17g" overflow="visible">`, x, y, w, h, vw, vh), "</svg>"
	case 3: // the longer side decides, and lies at the end
		vw, vh := w/k, h/k*m.between(1, 3)
		placed = geometry.Scale(k, k).Then(geometry.Translate(x, y+h-vh*k))
		e.open, e.shut = fmt.Sprintf(`<svg x="%.17g" y="%.17g" width="%.17g" height="%.17g" viewBox="0 0 %.17g %.17g" preserveAspectRatio="xMaxYMax slice" overflow="visible">`, x, y, w, h, vw, vh), "</svg>"
	case 4:
		e.open = fmt.Sprintf(`<defs><symbol id="s%d" viewBox="0 0 %.17g %.17g" overflow="visible">`, number, w/k, h/k)
		e.shut = fmt.Sprintf(`</symbol></defs><use href="#s%d" x="%.17g" y="%.17g" width="%.17g" height="%.17g"/>`, number, x, y, w, h)
	case 5: // where it stands is written in its style
		e.open, e.shut = fmt.Sprintf(`<g style="transform-origin:0 0;translate:%.17gpx %.17gpx;scale:%.17g">`, x, y, k), "</g>"
	default:
		return wrapped{into: geometry.Identity}
	}
	e.into, _ = placed.Inverse()
	return e
}

// rootOf writes the attributes of a page that states its unit, with numbers of mm each.
func (m *maker) rootOf(page geometry.Box) string {
	w, h := page.Width(), page.Height()
	box := fmt.Sprintf(` viewBox="0 0 %.12g %.12g"`, w, h)
	size := func(side string, v float64) string { return fmt.Sprintf(` %s="%.12g%s"`, side, v, m.unit) }
	switch m.saved.root {
	case 1:
		return size("width", w) + box
	case 2:
		return size("height", h) + box
	case 3: // wider than what is drawn on it
		return size("width", w*m.between(1.05, 1.5)) + size("height", h) + box
	case 4:
		return fmt.Sprintf(` style="width:%.12g%s;height:%.12g%s"`, w, m.unit, h, m.unit) + box
	case 5: // each side in another unit
		mm := m.unit.mm()
		return fmt.Sprintf(` width="%.12gcm" height="%.12gin"`, w*mm/10, h*mm/25.4) + box
	}
	return size("width", w) + size("height", h) + box
}
