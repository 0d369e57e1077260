package spoil

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// draw writes the artwork and the frame into the drawing, spoiled.
func (m *maker) draw(art []geometry.Path) {
	to := m.toUnits()
	back, _ := geometry.Affine{A: to.A, B: to.B, C: to.C, D: to.D}.Inverse()
	turned := geometry.Rotate(m.turn)
	m.c.Truth.ToMM = back.Then(turned)
	ideal, drawn := geometry.EmptyBox(), geometry.EmptyBox()
	for _, p := range art {
		ideal = ideal.Union(p.Transform(turned).Bounds())
		drawn = drawn.Union(p.Transform(to).Bounds())
		m.add(p, to, "CUT")
	}
	m.c.Truth.ArtMM = [2]float64{ideal.Width(), ideal.Height()}
	m.c.Truth.Far = [2]geometry.Point{
		geometry.Pt(drawn.Width(), drawn.Height()), geometry.Pt(drawn.Width(), -drawn.Height()),
	}
	if m.c.Truth.Framed {
		m.frame(to)
		page := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(m.page.w, m.page.h)).Path()
		ideal = ideal.Union(page.Transform(turned).Bounds())
	}
	m.c.Truth.PageMM = [2]float64{m.page.w, m.page.h}
	m.c.Truth.AllMM = [2]float64{ideal.Width(), ideal.Height()}
	m.rng.Shuffle(len(m.c.Drawing.Shapes), func(i, j int) {
		s := m.c.Drawing.Shapes
		s[i], s[j] = s[j], s[i]
	})
}

// add draws one path of the page with noise on all its points.
func (m *maker) add(p geometry.Path, to geometry.Affine, layer string) {
	p = m.noisy(p)
	m.c.Drawing.Shapes = append(m.c.Drawing.Shapes, drawing.Shape{
		Paths: []geometry.Path{p.Transform(to)}, Layer: layer, Stroke: drawing.RGB(0, 0, 0), StrokeWidth: 0.35 / m.mmPer,
		Source: drawing.Source{Kind: "path", ID: fmt.Sprintf("%x", len(m.c.Drawing.Shapes)+1)},
	})
}

func (m *maker) noisy(p geometry.Path) geometry.Path {
	if m.noise == 0 {
		return p
	}
	off := func(q geometry.Point) geometry.Point {
		return geometry.Pt(q.X+m.between(-m.noise, m.noise), q.Y+m.between(-m.noise, m.noise))
	}
	out := geometry.Path{Start: off(p.Start), Closed: p.Closed, Segments: make([]geometry.Segment, len(p.Segments))}
	for i, s := range p.Segments {
		s.End, s.C1, s.C2 = off(s.End), off(s.C1), off(s.C2)
		out.Segments[i] = s
	}
	if out.Closed {
		out.Segments[len(out.Segments)-1].End = out.Start
	}
	return out
}

// frame draws the page's frame whole, loose, doubled, in pieces or edited.
func (m *maker) frame(to geometry.Affine) {
	corners := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(m.page.w, m.page.h)).Corners()
	layer := "CUT"
	if m.chance(0.4) {
		layer = "PAGE"
		if m.chance(0.5) {
			m.c.Request.FrameLayers = []string{"page"}
			m.note("on a frame layer")
		}
	}
	if m.chance(0.03) && m.c.Truth.Intact {
		m.edit(corners, to, layer)
		return
	}
	m.outline(corners, to, layer)
	if m.chance(0.12) {
		m.note("frame doubled")
		m.outline(corners, to, layer)
	}
}

func (m *maker) outline(c [4]geometry.Point, to geometry.Affine, layer string) {
	switch r := m.rng.Float64(); {
	case r < 0.2:
		m.note("frame of loose lines")
		m.looseLines(c, to, layer)
	case r < 0.3:
		m.note("frame with a point on a side")
		mid := c[1].Lerp(c[2], m.between(0.2, 0.8))
		m.add(geometry.Polygon(c[0], c[1], mid, c[2], c[3]), to, layer)
	case r < 0.4:
		m.note("frame not closed")
		m.add(geometry.Polyline(c[0], c[1], c[2], c[3], c[0]), to, layer)
	default:
		m.add(geometry.Polygon(c[:]...), to, layer)
	}
}

// looseLines draws the sides one by one in any order and direction, each up
// to 0.2 mm short of its corners.
func (m *maker) looseLines(c [4]geometry.Point, to geometry.Affine, layer string) {
	for _, i := range m.rng.Perm(4) {
		a, b := c[i], c[(i+1)%4]
		gap := m.between(0, 0.2) / a.Dist(b)
		a, b = a.Lerp(b, gap), b.Lerp(a, gap)
		if m.chance(0.5) {
			a, b = b, a
		}
		m.add(geometry.Polyline(a, b), to, layer)
	}
}

// edit moves a corner or a side, or leaves a side out.
func (m *maker) edit(c [4]geometry.Point, to geometry.Affine, layer string) {
	m.c.Truth.Intact = false
	by := m.between(0.5, 8)
	switch m.rng.IntN(3) {
	case 0:
		m.note("corner of the frame moved by %.1f mm", by)
		c[2].X -= by
	case 1:
		m.note("side of the frame moved by %.1f mm", by)
		c[1].X, c[2].X = c[1].X-by, c[2].X-by
	default:
		m.note("side of the frame missing")
		m.add(geometry.Polyline(c[0], c[1], c[2], c[3]), to, layer)
		return
	}
	m.add(geometry.Polygon(c[:]...), to, layer)
}

// Error returns how far, in mm along x and y, the far corner of the artwork
// lies from its true place under a map from drawing units to mm.
func (t *Truth) Error(got geometry.Affine) float64 {
	worst := 0.0
	for _, d := range t.Far {
		off := got.ApplyVector(d).Sub(t.ToMM.ApplyVector(d))
		worst = math.Max(worst, math.Max(math.Abs(off.X), math.Abs(off.Y)))
	}
	return worst
}
