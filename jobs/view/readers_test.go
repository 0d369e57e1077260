package view_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/view"
)

// reader reads a file to cut from as it stands, in mm of the load.
type reader struct {
	name   string
	format view.Format
	within float64 // mm that the format may lose, chords on either side included
	read   func(t *testing.T, file []byte) []cutPass
}

// readers are the own ones, and for each format one that shares no code with
// what wrote the file: a library of another project for DXF, the XML itself for
// SVG, and a few lines for HP-GL/2.
func readers() []reader {
	return []reader{
		{"dxf", view.DXF, 1e-3, readDXF},
		// It makes cubics of arcs, which stray by 2.7e-4 of their radius of 10 mm.
		{"dxf by ezdxf", view.DXF, 4e-3, readByEzdxf},
		{"svg", view.SVG, 1e-3, readSVG},
		{"svg as XML", view.SVG, 1e-3, readXML},
		// Half a unit of 0.025 mm on each axis, and 0.01 mm of a chord; along a line
		// of chords the shares of its length shift by as much again.
		{"plotter", view.Plt, 0.06, readPlotter},
	}
}

// ownReaders are those that share code with what wrote the file, one a format.
func ownReaders() []reader {
	return slices.DeleteFunc(readers(), func(r reader) bool { return strings.HasPrefix(r.name, "dxf by") || strings.HasPrefix(r.name, "svg as") })
}

func readDXF(t *testing.T, file []byte) []cutPass {
	t.Helper()
	d, err := dxf.Read(t.Context(), bytes.NewReader(file), dxf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return byLayer(t, d)
}

func readSVG(t *testing.T, file []byte) []cutPass {
	t.Helper()
	d, err := svg.Read(t.Context(), bytes.NewReader(file), svg.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return byLayer(t, d)
}

// byLayer lists the lines by layer as they follow each other in the file.
func byLayer(t *testing.T, d *drawing.Drawing) []cutPass {
	t.Helper()
	if !d.Unit.Declared || len(d.Notes) > 0 {
		t.Errorf("unit %+v, notes %v", d.Unit, d.Notes)
	}
	mm := geometry.Scale(d.Unit.MM, d.Unit.MM)
	var all []cutPass
	for _, s := range d.Shapes {
		if n := len(all); n == 0 || all[n-1].name != s.Layer {
			all = append(all, cutPass{name: s.Layer, colour: s.Stroke.String()})
		}
		last := &all[len(all)-1]
		for _, p := range s.Paths {
			last.lines = append(last.lines, p.Transform(mm))
		}
	}
	return all
}

// polylines lists each entity's layer, colour number and chords.
const polylines = `
import json, sys, ezdxf
from ezdxf import path
d = ezdxf.read(sys.stdin)
assert d.header['$INSUNITS'] == 4, 'mm by the header'
def points(e):
    # make_path runs closed splines backwards
    line = e.construction_tool() if e.dxftype() == 'SPLINE' else path.make_path(e)
    return [(v.x, v.y) for v in line.flattening(0.00005, 16)]
json.dump([[e.dxf.layer, d.layers.get(e.dxf.layer).dxf.get('true_color', 0), points(e)] for e in d.modelspace()], sys.stdout)
`

func readByEzdxf(t *testing.T, file []byte) []cutPass {
	t.Helper()
	out := run(t, reference.Python(t, "ezdxf"), file, "-c", polylines)
	var entities [][3]json.RawMessage
	if err := json.Unmarshal([]byte(out), &entities); err != nil {
		t.Fatal(err)
	}
	var all []cutPass
	for _, e := range entities {
		var layer string
		var at [][2]float64
		if err := errors.Join(json.Unmarshal(e[0], &layer), json.Unmarshal(e[2], &at)); err != nil {
			t.Fatal(err)
		}
		if n := len(all); n == 0 || all[n-1].name != layer {
			all = append(all, cutPass{name: layer, colour: string(e[1])})
		}
		pts := make([]geometry.Point, len(at))
		for i, p := range at {
			pts[i] = geometry.Pt(p[0], p[1])
		}
		last := &all[len(all)-1]
		last.lines = append(last.lines, geometry.Polyline(pts...))
	}
	return all
}

// readXML reads the groups of the file: one user unit to the mm, y down from the
// upper edge of the page.
func readXML(t *testing.T, file []byte) []cutPass {
	t.Helper()
	var page struct {
		Width   string `xml:"width,attr"`
		Height  string `xml:"height,attr"`
		ViewBox string `xml:"viewBox,attr"`
		Groups  []struct {
			ID     string `xml:"id,attr"`
			Name   string `xml:"data-name,attr"`
			Stroke string `xml:"stroke,attr"`
			Paths  []struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(file, &page); err != nil {
		t.Fatal(err)
	}
	width, height := strings.TrimSuffix(page.Width, "mm"), strings.TrimSuffix(page.Height, "mm")
	if page.ViewBox != "0 0 "+width+" "+height || width == page.Width {
		t.Errorf("page %s by %s, view box %s", page.Width, page.Height, page.ViewBox)
	}
	h, err := strconv.ParseFloat(height, 64)
	if err != nil {
		t.Fatal(err)
	}
	all := make([]cutPass, len(page.Groups))
	for i, g := range page.Groups {
		all[i] = cutPass{name: g.Name, colour: g.Stroke}
		if g.Name == "" {
			all[i].name = g.ID
		}
		for _, p := range g.Paths {
			lines, err := geometry.ParsePathData(p.D)
			if err != nil || len(lines) != 1 {
				t.Fatalf("%q: %d lines, %v", p.D, len(lines), err)
			}
			all[i].lines = append(all[i].lines, lines[0].Transform(geometry.Affine{A: 1, D: -1, F: h}))
		}
	}
	return all
}

// readPlotter reads HP-GL/2 of IN, IP, SP, VS, PU, PD and AA with absolute coordinates
// in units of 0.025 mm. It lists a pass each time a pen is taken.
func readPlotter(t *testing.T, file []byte) []cutPass {
	t.Helper()
	var all []cutPass
	pen := "0"
	for _, one := range strings.FieldsFunc(string(file), func(r rune) bool { return r == ';' || r == '\n' }) {
		name, numbers := one[:2], one[2:]
		switch {
		case name == "IN", name == "IP":
		case name == "SP":
			if pen = numbers; pen != "0" {
				all = append(all, cutPass{name: pen})
			}
		case pen == "0":
			t.Errorf("%q without a pen", one)
		case name == "VS":
			cms, err := strconv.Atoi(numbers)
			if err != nil {
				t.Fatal(err)
			}
			all[len(all)-1].speed = float64(cms) * 10
		case name == "PU" && numbers == "":
		default:
			all[len(all)-1].move(t, name, numbers)
		}
	}
	if pen != "0" {
		t.Error("the pen is not put away")
	}
	return all
}

func (p *cutPass) move(t *testing.T, name, numbers string) {
	t.Helper()
	if name == "AA" || numbers == "" {
		p.arc(t, name, numbers)
		return
	}
	var pts []geometry.Point
	var x float64
	for i, n := range strings.Split(numbers, ",") {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			t.Fatal(err)
		}
		if v *= 0.025; i%2 == 0 {
			x = v
		} else {
			pts = append(pts, geometry.Pt(x, v))
		}
	}
	switch {
	case name == "PU" && len(pts) == 1:
		p.lines = append(p.lines, geometry.Path{Start: pts[0]})
	case name == "PD" && len(p.lines) > 0:
		line := &p.lines[len(p.lines)-1]
		for _, q := range pts {
			line.Segments = append(line.Segments, geometry.LineTo(q))
		}
	default:
		t.Fatalf("%s of %d points", name, len(pts))
	}
}

// arc reads PD, which lowers the pen where it is, and AA: a centre, a sweep in degrees
// anticlockwise and the angle of chords, of which the machine's are true arcs.
func (p *cutPass) arc(t *testing.T, name, numbers string) {
	t.Helper()
	if len(p.lines) == 0 {
		t.Fatalf("%s before PU", name)
	}
	if name == "PD" {
		return
	}
	var v [4]float64
	if n, err := fmt.Sscanf(numbers, "%g,%g,%g,%g", &v[0], &v[1], &v[2], &v[3]); n != 4 || err != nil || v[3] < 0.5 || v[3] > 180 {
		t.Fatalf("AA%s: %v", numbers, err)
	}
	line := &p.lines[len(p.lines)-1]
	from, c := line.End(), geometry.Pt(v[0]*0.025, v[1]*0.025)
	_, arcs := geometry.CircleArc(c, from.Dist(c), math.Atan2(from.Y-c.Y, from.X-c.X), v[2]*math.Pi/180)
	line.Segments = append(line.Segments, arcs...)
	p.arcs++
}
