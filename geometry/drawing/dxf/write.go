package dxf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Layer is a layer to be written.
type Layer struct {
	Name   string          // letters that the format forbids in names become _
	Colour *drawing.Colour // nil: ink
	Paths  []geometry.Path
}

// Write writes the paths of the layers as a text file of release 2000, in the
// given units, the order of layers and paths kept.
//
// A path of lines and arcs becomes one LWPOLYLINE (a single line a LINE) and
// reads back exactly. A path with a cubic becomes one SPLINE of degree 3 whose
// pieces are its segments: lines and cubics exactly, arcs as by
// geometry.EllipseArc. Paths without segments are left out. It fails on
// coordinates that are no numbers, and with the error of w.
func Write(w io.Writer, units Units, layers ...Layer) error {
	return WriteSheet(w, units, Sheet{}, layers...)
}

// Sheet is the page that a file is for.
type Sheet struct {
	Box     geometry.Box // without width: not said
	Comment string       // one line for whoever opens the file as text; may be empty
}

// WriteSheet is Write for a page, which stands in the header as the limits of the
// drawing.
func WriteSheet(w io.Writer, units Units, sheet Sheet, layers ...Layer) error {
	for _, l := range layers {
		for i, p := range l.Paths {
			if !p.Finite() {
				return fmt.Errorf("dxf: path %d of layer %q has coordinates that are no numbers", i, l.Name)
			}
		}
	}
	b := bufio.NewWriter(w)
	o := writer{out: b, handle: firstHandle}
	o.comment(sheet.Comment)
	o.header(units, sheet, layers)
	o.tables(layers)
	o.blocks()
	o.section("ENTITIES")
	for _, l := range layers {
		for _, p := range l.Paths {
			o.path(cleanName(l.Name), p)
		}
	}
	o.text(0, "ENDSEC")
	o.section("OBJECTS")
	o.object("DICTIONARY", "0", "AcDbDictionary")
	o.text(0, "ENDSEC")
	o.text(0, "EOF")
	if err := b.Flush(); err != nil {
		return fmt.Errorf("dxf: %w", err)
	}
	return nil
}

// Handles of the block records of the model and of the print layout. Those of
// entities begin above them.
const (
	modelHandle = "10"
	paperHandle = "11"
	firstHandle = 0x20
)

// writer writes groups. Errors stay in the buffered writer until its flush.
type writer struct {
	out    *bufio.Writer
	handle int
	num    [32]byte
}

func (o *writer) text(code int, value string) {
	fmt.Fprintf(o.out, "%3d\n%s\n", code, value)
}

func (o *writer) int(code, v int) { o.text(code, strconv.Itoa(v)) }

// real writes the shortest decimal that reads back exactly, always with a
// point or an exponent, as some readers tell reals by it.
func (o *writer) real(code int, v float64) {
	form := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		form = 'E'
	}
	b := strconv.AppendFloat(o.num[:0], v+0, form, -1, 64)
	if form == 'f' && !strings.Contains(string(b), ".") {
		b = append(b, ".0"...)
	}
	o.text(code, string(b))
}

// point writes p under the code for x and the one 10 above it for y.
func (o *writer) point(code int, p geometry.Point) {
	o.real(code, p.X)
	o.real(code+10, p.Y)
}

// comment writes a line that readers pass over (DXF reference, group 999).
func (o *writer) comment(text string) {
	if text != "" {
		o.text(999, escaped(text, ""))
	}
}

func (o *writer) section(name string) {
	o.text(0, "SECTION")
	o.text(2, name)
}

// object begins an object or table entry with a new handle.
func (o *writer) object(name, owner, subclass string) {
	o.text(0, name)
	o.text(5, strings.ToUpper(strconv.FormatInt(int64(o.handle), 16)))
	o.handle++
	o.text(330, owner)
	o.text(100, subclass)
}

// entity begins an entity of the model.
func (o *writer) entity(name, layer, subclass string) {
	o.object(name, modelHandle, "AcDbEntity")
	o.text(8, layer)
	o.text(100, subclass)
}

// path writes p as one entity.
func (o *writer) path(layer string, p geometry.Path) {
	cubic := false
	for _, s := range p.Segments {
		cubic = cubic || s.Kind == geometry.Cubic
	}
	switch {
	case p.Empty():
	case cubic:
		o.spline(layer, p)
	case len(p.Segments) == 1 && p.Segments[0].Kind == geometry.Line:
		o.entity("LINE", layer, "AcDbLine")
		o.point(10, p.Start)
		o.real(30, 0)
		o.point(11, p.End())
		o.real(31, 0)
	default:
		o.polyline(layer, p)
	}
}

func (o *writer) polyline(layer string, p geometry.Path) {
	n := len(p.Segments)
	closed := 0
	if p.Closed {
		closed = 1
	}
	o.entity("LWPOLYLINE", layer, "AcDbPolyline")
	o.int(90, n+1-closed)
	o.int(70, closed)
	at := p.Start
	for _, s := range p.Segments {
		o.point(10, at)
		if s.Kind == geometry.Arc && !s.Straight() {
			o.real(42, s.Bulge)
		}
		at = s.End
	}
	if !p.Closed {
		o.point(10, at)
	}
}

// spline writes p as a cubic B-spline with a threefold knot between segments,
// which is the same curve as its Bézier pieces.
func (o *writer) spline(layer string, p geometry.Path) {
	control := bezier(p)
	pieces := len(control) / 3
	flags := 8 // planar
	if p.Closed {
		flags |= 1
	}
	o.entity("SPLINE", layer, "AcDbSpline")
	o.int(70, flags)
	o.int(71, 3)
	o.int(72, len(control)+4)
	o.int(73, len(control))
	o.int(74, 0)
	for i := range len(control) + 4 {
		o.real(40, float64(min(max((i-1)/3, 0), pieces)))
	}
	for _, c := range control {
		o.point(10, c)
		o.real(30, 0)
	}
}

// bezier returns the control points of p, its segments taken as cubics.
func bezier(p geometry.Path) []geometry.Point {
	pts := []geometry.Point{p.Start}
	from := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Kind == geometry.Cubic:
			pts = append(pts, s.C1, s.C2, s.End)
		case s.Kind == geometry.Arc && !s.Straight():
			c, r, start, sweep := geometry.ArcCircle(from, s)
			for _, q := range geometry.EllipseArc(c, geometry.Pt(r, 0), geometry.Pt(0, r), start, sweep) {
				pts = append(pts, q.C1, q.C2, q.End)
			}
			pts[len(pts)-1] = s.End
		default:
			pts = append(pts, from.Lerp(s.End, 1.0/3), from.Lerp(s.End, 2.0/3), s.End)
		}
		from = s.End
	}
	return pts
}
