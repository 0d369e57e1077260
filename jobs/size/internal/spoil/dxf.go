package spoil

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry"
)

// dxfWriter writes an ASCII DXF file by group codes (the public DXF reference).
type dxfWriter struct {
	bytes.Buffer
	below bool // flat figures are drawn as seen from below
	old   bool // POLYLINE with VERTEX, as R12 has it, and not LWPOLYLINE
}

func (w *dxfWriter) tag(code int, value any) {
	if v, ok := value.(float64); ok {
		value = fmt.Sprintf("%.9f", v)
	}
	fmt.Fprintf(w, "%3d\n%v\n", code, value)
}

func (w *dxfWriter) at(code int, p geometry.Point) {
	w.tag(code, p.X)
	w.tag(code+10, p.Y)
}

// writeDXF writes the drawing with its unit in the header, or none.
func writeDXF(m *maker, list []drawn) []byte {
	w := &dxfWriter{old: m.chance(0.4), below: m.saved.below}
	w.header(m)
	if m.nested > 0 {
		w.block(list)
	}
	w.tag(0, "SECTION")
	w.tag(2, "ENTITIES")
	for i := range list {
		if !list[i].group {
			w.entity(&list[i])
		}
	}
	if m.saved.titled {
		w.title(m)
	}
	if m.nested > 0 {
		w.tag(0, "INSERT")
		w.tag(8, "0")
		w.tag(2, "PART")
		w.at(10, geometry.Point{})
		w.tag(41, m.nested)
		w.tag(42, m.nested)
	}
	w.tag(0, "ENDSEC")
	w.tag(0, "EOF")
	if m.chance(0.3) {
		return []byte(strings.ReplaceAll(w.String(), "\n", "\r\n"))
	}
	return w.Bytes()
}

// title draws the edge and the title of a sheet in a layout, which is no part of the
// model.
func (w *dxfWriter) title(m *maker) {
	for _, y := range [...]float64{0, 20, 297} {
		w.tag(0, "LINE")
		w.tag(67, 1)
		w.tag(8, m.frameOn)
		w.at(10, geometry.Pt(0, y))
		w.at(11, geometry.Pt(210, y))
	}
}

// flat gives the places of a figure that lies in a plane, and says the plane: x runs
// the other way where it is seen from below (arbitrary axis algorithm).
func (w *dxfWriter) flat(p geometry.Point) geometry.Point {
	if w.below {
		return geometry.Pt(-p.X, p.Y)
	}
	return p
}

func (w *dxfWriter) plane() {
	if w.below {
		w.tag(210, 0.0)
		w.tag(220, 0.0)
		w.tag(230, -1.0)
	}
}

func (w *dxfWriter) header(m *maker) {
	codes := map[unit]int{inch: 1, millimetre: 4, centimetre: 5, metre: 6}
	version := "AC1015"
	if w.old {
		version = "AC1009"
	}
	bare := m.unit == silent && m.chance(0.3)
	if bare {
		return // a file of entities alone
	}
	w.tag(0, "SECTION")
	w.tag(2, "HEADER")
	w.tag(9, "$ACADVER")
	w.tag(1, version)
	switch code, ok := codes[m.unit]; {
	case ok:
		w.tag(9, "$INSUNITS")
		w.tag(70, code)
	case m.chance(0.5):
		w.tag(9, "$INSUNITS")
		w.tag(70, 0)
	case m.chance(0.5):
		w.tag(9, "$MEASUREMENT")
		w.tag(70, m.rng.IntN(2))
	}
	w.tag(0, "ENDSEC")
}

// block holds the grouped figures at their own size.
func (w *dxfWriter) block(list []drawn) {
	w.tag(0, "SECTION")
	w.tag(2, "BLOCKS")
	w.tag(0, "BLOCK")
	w.tag(8, "0")
	w.tag(2, "PART")
	w.tag(70, 0)
	w.at(10, geometry.Point{})
	for i := range list {
		if list[i].group {
			w.entity(&list[i])
		}
	}
	w.tag(0, "ENDBLK")
	w.tag(0, "ENDSEC")
}

func (w *dxfWriter) entity(d *drawn) {
	layer := d.layer
	if layer == "" {
		layer = "0"
	}
	head := func(kind string) {
		w.tag(0, kind)
		w.tag(8, layer)
	}
	switch {
	case d.rx > 0 && d.rx == d.ry:
		head("CIRCLE")
		w.at(10, w.flat(d.pts[0]))
		w.tag(40, d.rx)
		w.plane()
	case d.rx > 0:
		head("ELLIPSE")
		w.ellipse(d)
	case len(d.pts) == 1:
		head("POINT")
		w.at(10, d.pts[0])
	case len(d.pts) == 2:
		head("LINE")
		w.at(10, d.pts[0])
		w.at(11, d.pts[1])
	case w.old:
		head("POLYLINE")
		w.vertices(d, layer)
	default:
		head("LWPOLYLINE")
		w.tag(90, len(d.pts))
		w.tag(70, flag(d.closed))
		for i, p := range d.pts {
			w.at(10, w.flat(p))
			w.bulge(d, i)
		}
		w.plane()
	}
}

func (w *dxfWriter) ellipse(d *drawn) {
	long, ratio := geometry.Pt(d.rx, 0), d.ry/d.rx
	if ratio > 1 {
		long, ratio = geometry.Pt(0, d.ry), d.rx/d.ry
	}
	w.at(10, d.pts[0])
	w.at(11, long)
	w.tag(40, ratio)
	w.tag(41, 0.0)
	w.tag(42, 6.283185307179586)
}

func (w *dxfWriter) vertices(d *drawn, layer string) {
	w.tag(66, 1)
	w.tag(70, flag(d.closed))
	w.plane()
	for i, p := range d.pts {
		w.tag(0, "VERTEX")
		w.tag(8, layer)
		w.at(10, w.flat(p))
		w.bulge(d, i)
	}
	w.tag(0, "SEQEND")
	w.tag(8, layer)
}

// bulge bends the side that begins at a point: the tangent of a quarter of its
// angle.
func (w *dxfWriter) bulge(d *drawn, i int) {
	switch {
	case !d.arc(i):
	case w.below:
		w.tag(42, -math.Tan(math.Pi/8))
	default:
		w.tag(42, math.Tan(math.Pi/8))
	}
}

func flag(closed bool) int {
	if closed {
		return 1
	}
	return 0
}
