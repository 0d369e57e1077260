package spoil

import (
	"math"

	"knifedesk/geometry/drawing"
)

// reading is how a file can state its unit, or leave it open.
type reading struct {
	name   string
	mm     float64
	stated bool
	format string
}

const (
	inch  = 25.4
	point = inch / 72
	pixel = inch / 96
	old   = inch / 90 // pixel of older vector files, common practice
)

var readings = [...]reading{
	{"none", 1, false, "dxf"}, {"none", 1, false, "dxf"}, {"mm", 1, true, "dxf"}, {"inch", inch, true, "dxf"},
	{"cm", 10, true, "dxf"}, {"px", pixel, false, "svg"}, {"mm", 1, true, "svg"}, {"pt", point, true, "pdf"},
}

// chooseScale picks the unit the file reads in and how it was lost.
func (m *maker) chooseScale() {
	r := readings[m.rng.IntN(len(readings))]
	m.c.Drawing.Format = r.format
	m.c.Drawing.Unit = drawing.Unit{Name: r.name, MM: r.mm, Declared: r.stated, Source: r.format + " header"}
	switch roll := m.rng.Float64(); {
	case roll < 0.30:
		m.mmPer = r.mm
		m.note("unit as it reads")
	case roll < 0.60:
		m.mistakeUnit(r)
	case roll < 0.70:
		m.mix(r)
	case roll < 0.78:
		k := m.between(0.94, 0.99)
		m.unnamed(r, k, "fitted to a page, %.4f")
	case roll < 0.86:
		m.unnamed(r, math.Exp(m.between(math.Log(0.2), math.Log(5))), "arbitrary factor %.4f")
	default:
		m.stretch(r)
	}
	m.c.Truth.HeaderWrong = r.stated && math.Abs(m.mmPer/r.mm-1) > 1e-9
	if m.c.Truth.HeaderWrong {
		m.note("header says %s", r.name)
	}
}

func (m *maker) mistakeUnit(r reading) {
	all := [...]float64{1, inch, 10, 1000, point, pixel}
	m.mmPer = all[m.rng.IntN(len(all))]
	m.note("one unit is %.6g mm, the file reads %.6g", m.mmPer, r.mm)
}

// mix takes one raster for another: 72, 90 and 96 to the inch.
func (m *maker) mix(r reading) {
	all := [...]float64{96.0 / 72, 72.0 / 96, 96.0 / 90, 90.0 / 96}
	k := all[m.rng.IntN(len(all))]
	m.mmPer = r.mm * k
	m.note("rasters taken for one another, %.4f", 1/k)
}

// unnamed rescales by a factor that no cause explains. A factor that by chance
// makes the frame fit a named size by a named cause has a name after all and is
// drawn again.
func (m *maker) unnamed(r reading, k float64, text string) {
	for m.mmPer = r.mm / k; len(m.hypotheses(2*acceptMM)) > 0; m.mmPer = r.mm / k {
		k = math.Exp(m.between(math.Log(0.2), math.Log(5)))
	}
	m.note(text, k)
}

// stretch pulls one axis of the page by 0.1 to 10 percent.
func (m *maker) stretch(r reading) {
	m.mmPer = r.mm
	if m.chance(0.4) {
		m.mmPer = point
	}
	k := 1 + math.Exp(m.between(math.Log(0.001), math.Log(0.1)))
	if m.chance(0.5) {
		k = 1 / k
	}
	if !m.c.Truth.Framed {
		return // nothing would show it
	}
	m.c.Truth.Intact, m.c.Truth.Stretched = false, true
	if m.chance(0.5) {
		m.sx = k
	} else {
		m.sy = k
	}
	m.note("stretched one way, %.5f", k)
}
