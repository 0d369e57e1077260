package spoil

import (
	"math"

	"knifedesk/geometry"
)

// drawFrame draws the frame w by h mm from a corner: whole, loose, doubled or
// unclosed, its corners off by a little noise.
func drawFrame(m *maker, x, y, w, h float64) {
	noise := 0.0
	m.note("frame on layer %q, work on %q", m.frameOn, m.workOn)
	if m.chance(0.4) {
		noise = m.between(0.001, 0.012)
		m.note("noise of %.3f mm", noise)
	}
	drawOutline(m, x, y, w, h, noise)
	if m.chance(0.12) {
		m.note("frame drawn twice")
		drawOutline(m, x, y, w, h, noise)
	}
	m.c.Truth.FrameSides = append(m.c.Truth.FrameSides, math.Max(w, h))
}

func drawOutline(m *maker, x, y, w, h, noise float64) {
	c := m.rect(x, y, w, h).pts
	for i := range c {
		c[i] = geometry.Pt(c[i].X+m.between(-noise, noise), c[i].Y+m.between(-noise, noise))
	}
	switch r := m.rng.Float64(); {
	case m.rounded > 0:
		drawRounded(m, x, y, w, h)
	case r < 0.2:
		m.note("frame of loose lines")
		drawLoose(m, c)
	case r < 0.25:
		m.note("frame with sides of several lines")
		drawSplit(m, c)
	case r < 0.3:
		m.note("frame with a point on a side")
		mid := c[1].Lerp(c[2], m.between(0.2, 0.8))
		m.framed(true, c[0], c[1], mid, c[2], c[3])
	case r < 0.4:
		m.note("frame not closed")
		m.framed(false, c[0], c[1], c[2], c[3], c[0])
	default:
		m.framed(true, m.crumbled(c)...)
	}
}

func (m *maker) framed(closed bool, pts ...geometry.Point) {
	m.add(frame, figure{layer: m.frameOn, closed: closed, pts: pts})
}

// drawRounded draws the frame with rounded corners.
func drawRounded(m *maker, x, y, w, h float64) {
	r := m.rounded
	m.add(frame, figure{layer: m.frameOn, closed: true, arcs: true, pts: []geometry.Point{
		geometry.Pt(x+r, y), geometry.Pt(x+w-r, y), geometry.Pt(x+w, y+r), geometry.Pt(x+w, y+h-r),
		geometry.Pt(x+w-r, y+h), geometry.Pt(x+r, y+h), geometry.Pt(x, y+h-r), geometry.Pt(x, y+r),
	}})
}

// drawLoose draws the sides one by one, each up to 0.1 mm short of its corners.
func drawLoose(m *maker, c []geometry.Point) {
	for i := range c {
		a, b := c[i], c[(i+1)%4]
		gap := m.between(0, 0.1) / a.Dist(b)
		a, b = a.Lerp(b, gap), b.Lerp(a, gap)
		if m.chance(0.5) {
			a, b = b, a
		}
		m.framed(false, a, b)
	}
}

// drawSplit draws each side as up to five lines, in any order and direction, some of
// which overlap.
func drawSplit(m *maker, c []geometry.Point) {
	for i := range c {
		a, b := c[i], c[(i+1)%4]
		n := 1 + m.rng.IntN(5)
		for k := range n {
			from, to := float64(k)/float64(n), float64(k+1)/float64(n)
			if m.chance(0.3) {
				to = math.Min(1, to+m.between(0, 0.5)/float64(n))
			}
			p, q := a.Lerp(b, from), a.Lerp(b, to)
			if m.chance(0.5) {
				p, q = q, p
			}
			m.framed(false, p, q)
		}
	}
}

// addStrays adds points and lines without length, mostly outside the work.
func addStrays(m *maker) {
	if m.c.Kind != "a declared length beside strays" && !m.chance(0.15) {
		return
	}
	m.note("strays")
	for range 1 + m.rng.IntN(3) {
		p := geometry.Pt(m.between(-0.5, 1.5)*m.page.w, m.between(-0.5, 1.5)*m.page.h)
		q := p
		if m.chance(0.4) {
			q = p.Add(geometry.Pt(0.0005, 0)) // half a micrometre
		}
		f := figure{layer: m.workOn, pts: []geometry.Point{p, q}}
		if m.c.Format != "dxf" && m.chance(0.5) {
			f.pts = f.pts[:1]
		}
		m.add(stray, f)
	}
}
