package dxf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/dxf"
)

// vec and mat are the maps of space by the plain rules of the DXF reference,
// for comparison: columns are the images of the axes.
type vec [3]float64

type mat struct {
	col [3]vec
	o   vec
}

func (m mat) apply(p vec) vec {
	q := m.o
	for i := range 3 {
		for k := range 3 {
			q[k] += m.col[i][k] * p[i]
		}
	}
	return q
}

func cross(a, b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func unit(a vec) vec {
	n := math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2])
	return vec{a[0] / n, a[1] / n, a[2] / n}
}

// object is the object system of an extrusion (arbitrary axis algorithm).
func object(n vec) mat {
	n = unit(n)
	axis := vec{0, 0, 1}
	if math.Abs(n[0]) < 1.0/64 && math.Abs(n[1]) < 1.0/64 {
		axis = vec{0, 1, 0}
	}
	x := unit(cross(axis, n))
	return mat{col: [3]vec{x, unit(cross(n, x)), n}}
}

// placed is one INSERT.
type placed struct {
	at, scale, normal, base vec
	turn                    float64
}

func (p placed) apply(q vec) vec {
	for k := range 3 {
		q[k] = (q[k] - p.base[k]) * p.scale[k]
	}
	sin, cos := math.Sincos(p.turn * math.Pi / 180)
	q = vec{q[0]*cos - q[1]*sin + p.at[0], q[0]*sin + q[1]*cos + p.at[1], q[2] + p.at[2]}
	return object(p.normal).apply(q)
}

func (p placed) insert(block string) string {
	return fmt.Sprintf("INSERT 8=0 2=%s 10=%v 20=%v 30=%v 41=%v 42=%v 43=%v 50=%v 210=%v 220=%v 230=%v ", block,
		p.at[0], p.at[1], p.at[2], p.scale[0], p.scale[1], p.scale[2], p.turn, p.normal[0], p.normal[1], p.normal[2])
}

func (p placed) block(name, content string) string {
	return fmt.Sprintf("BLOCK 2=%s 10=%v 20=%v 30=%v %s ENDBLK ", name, p.base[0], p.base[1], p.base[2], content)
}

func drawPlaced(t *rapid.T, name string) placed {
	number := rapid.Float64Range(-50, 50)
	factor := rapid.SampledFrom([]float64{1, 2, -1, 0.5, -3})
	p := placed{turn: number.Draw(t, name+" turn") * 7}
	for k := range 3 {
		p.at[k] = number.Draw(t, name+" at")
		p.base[k] = number.Draw(t, name+" base")
		p.scale[k] = factor.Draw(t, name+" scale")
	}
	p.normal = rapid.SampledFrom([]vec{{0, 0, 1}, {0, 0, -1}, {0.6, 0, 0.8}, {0.01, 0.01, 1}, {-1, 2, -3}}).Draw(t, name+" normal")
	return p
}

// TestNestedPlacements: a line, and a circle on a tilted plane, in a block in a
// block, come to lie where the rules put their points, through any extrusion,
// uneven scale and turn at both levels.
func TestNestedPlacements(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		outer, inner := drawPlaced(t, "outer"), drawPlaced(t, "inner")
		number := rapid.Float64Range(-50, 50)
		a := vec{number.Draw(t, "x"), number.Draw(t, "y"), number.Draw(t, "z")}
		b := vec{60 + number.Draw(t, "x"), number.Draw(t, "y"), number.Draw(t, "z")}
		normal := drawPlaced(t, "circle").normal
		content := fmt.Sprintf("LINE 8=0 10=%v 20=%v 30=%v 11=%v 21=%v 31=%v CIRCLE 8=0 10=%v 20=%v 30=%v 40=7 210=%v 220=%v 230=%v",
			a[0], a[1], a[2], b[0], b[1], b[2], a[0], a[1], a[2], normal[0], normal[1], normal[2])
		blocks := inner.block("IN", content) + outer.block("OUT", inner.insert("IN"))
		d, err := dxf.Read(t.Context(), strings.NewReader(file("", blocks, outer.insert("OUT"))), dxf.Options{})
		if err != nil || len(d.Shapes) != 2 {
			t.Fatalf("%v, %d shapes", err, len(d.Shapes))
		}
		where := func(p vec) geometry.Point {
			q := outer.apply(inner.apply(p))
			return geometry.Pt(q[0], q[1])
		}
		line := d.Shapes[0].Paths[0]
		if line.Start.Dist(where(a)) > 1e-9 || line.End().Dist(where(b)) > 1e-9 {
			t.Fatalf("line from %v to %v, want %v to %v", line.Start, line.End(), where(a), where(b))
		}
		circle := d.Shapes[1].Paths[0]
		size := circle.Bounds()
		for i := range 12 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 6)
			p := where(object(normal).apply(vec{a[0] + 7*cos, a[1] + 7*sin, a[2]}))
			if off := distance(flattenArcs(circle), p); off > 1e-6*(size.Width()+size.Height()) {
				t.Fatalf("the circle passes %v at a distance of %v", p, off)
			}
		}
	})
}

// flattenArcs returns p with its arcs as cubics.
func flattenArcs(p geometry.Path) geometry.Path {
	q := geometry.Path{Start: p.Start}
	from := p.Start
	for _, s := range p.Segments {
		if s.Kind == geometry.Arc {
			c, r, start, sweep := geometry.ArcCircle(from, s)
			q.Segments = append(q.Segments, geometry.EllipseArc(c, geometry.Pt(r, 0), geometry.Pt(0, r), start, sweep)...)
		} else {
			q.Segments = append(q.Segments, s)
		}
		from = s.End
	}
	return q
}

// TestArray: the cells of an array are spaced in the turned directions of the
// insert, whatever its scale.
func TestArray(t *testing.T) {
	d := read(t, file("", "BLOCK 2=B 10=0 20=0 CIRCLE 8=0 10=0 20=0 40=1 ENDBLK",
		"INSERT 8=0 2=B 10=100 20=0 41=2 42=2 50=90 70=3 71=2 44=10 45=20"), dxf.Options{})
	var got []geometry.Point
	for _, s := range d.Shapes {
		got = append(got, s.Bounds().Centre())
	}
	want := []geometry.Point{{X: 100, Y: 0}, {X: 100, Y: 10}, {X: 100, Y: 20}, {X: 80, Y: 0}, {X: 80, Y: 10}, {X: 80, Y: 20}}
	if len(got) != len(want) {
		t.Fatalf("%d cells, want %d", len(got), len(want))
	}
	for i := range want {
		if got[i].Dist(want[i]) > 1e-12 {
			t.Errorf("cell %d at %v, want %v", i, got[i], want[i])
		}
	}
	if s := d.Shapes[0]; s.Nested != 2 || s.Mirrored {
		t.Errorf("nested %v, mirrored %v", s.Nested, s.Mirrored)
	}
}

// TestCoordinatesInAnyOrder: 10, 11, 20, 21 and reversed are one line.
func TestCoordinatesInAnyOrder(t *testing.T) {
	for _, order := range []string{"10=1 20=2 11=3 21=4", "10=1 11=3 20=2 21=4", "21=4 11=3 20=2 10=1"} {
		p := entities(t, "LINE "+order+" 8=0").Shapes[0].Paths[0]
		if p.Start != geometry.Pt(1, 2) || p.End() != geometry.Pt(3, 4) {
			t.Errorf("%s: %v", order, p)
		}
	}
}

// TestCorners checks bulges by reference/check-values.md, rows 28 to 30:
// chord 100, the bulge, the length.
func TestCorners(t *testing.T) {
	for bulge, want := range map[float64]float64{0: 100, 1: 50 * math.Pi, 0.5: 115.9119, math.Tan(math.Pi / 8): 111.0721, 3: 4 * math.Atan(3) * 1000 / 12} {
		for _, sign := range []float64{1, -1} {
			d := entities(t, fmt.Sprintf("LWPOLYLINE 8=0 90=2 10=0 20=0 42=%v 10=100 20=0", sign*bulge))
			if !near(length(d), want, 1e-4) {
				t.Errorf("bulge %v: length %v, want %v", sign*bulge, length(d), want)
			}
			if top := d.Bounds().Max.Y; bulge == 0.5 && !near(top, map[float64]float64{1: 0, -1: 25}[sign], 1e-9) {
				t.Errorf("bulge %v: top %v", sign*bulge, top)
			}
		}
	}
}
