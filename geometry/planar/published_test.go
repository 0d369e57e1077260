package planar_test

import (
	"encoding/hex"
	"encoding/xml"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
)

// publishedRun is a test file of JTS or GEOS.
type publishedRun struct {
	Precision struct {
		Scale float64 `xml:"scale,attr"`
	} `xml:"precisionModel"`
	Tolerance float64 `xml:"tolerance"`
	Cases     []struct {
		Name  string `xml:"desc"`
		A     string `xml:"a"`
		B     string `xml:"b"`
		Tests []struct {
			Op struct {
				Name string `xml:"name,attr"`
				Arg1 string `xml:"arg1,attr"`
				Arg2 string `xml:"arg2,attr"`
				Arg3 string `xml:"arg3,attr"`
				Want string `xml:",chardata"`
			} `xml:"op"`
		} `xml:"test"`
	} `xml:"case"`
}

// onPurpose lists the results that differ and should, by file, case from 1
// and operation.
var onPurpose = map[string]string{
	"TestOverlay-geos-1046-union-lines.xml 1 unionlength": nearlyCoinciding,
	"TestOverlay-pg-list.xml 4 unionlength":               nearlyCoinciding,
	"TestOverlay-geos-368.xml 1 intersection":             "the file gives no result",
	"TestOverlay.xml 2 union":                             "an inlet whose mouth is narrower than the grid closes and is a hole",
	"geos-bug838-union.xml 1 union":                       "the expected ring runs along a spike without width, which the grid closes",
	"TestPolygonize.xml 6 polygonize":                     "the input is not noded; here a line that ends on another splits it, there it does not",
	"testSlantAndHorizontalLineWithMiddleNode":            roundedFirst,
	"testNearbyShape":                                     roundedFirst,
	"TestBuffer.xml 7 buffer -10.0":                       "pieces that touch in a point are one or several by the accidents of rounding",
	"TestBuffer.xml 10 buffer 10.0":                       noArea,
	"TestBuffer.xml 11 buffer 10.0":                       noArea,
}

const (
	nearlyCoinciding = "lines that nearly coincide become one or two by the accidents of rounding: grid here, float64 there"
	noArea           = "a polygon without area has no border to move; there it counts as its line"
	roundedFirst     = "ends are rounded to the grid before crossings are sought, not after"
)

// TestPublishedOverlays runs the overlay, polygonising and noding cases of
// JTS and GEOS, and the offsets of areas (reference/benchmarks/overlay). Coordinates are moved and
// scaled so that the figure fills the grid; where a file sets a precision
// model, its grid becomes ours.
func TestPublishedOverlays(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(reference.Path(t, "benchmarks", "overlay"), "*.xml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	filesRun, casesRun, aside := 0, 0, map[string]int{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var run publishedRun
		if err := xml.Unmarshal(text, &run); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		before := casesRun
		for i, c := range run.Cases {
			for _, test := range c.Tests {
				p := published{t: t, scale: run.Precision.Scale, tolerance: run.Tolerance,
					op: strings.TrimSuffix(strings.ToLower(test.Op.Name), "ng"), want: test.Op.Want,
					distance: strings.TrimSpace(test.Op.Arg2), quadrant: strings.TrimSpace(test.Op.Arg3)}
				if p.distance == "" { // the older form, which gives it last
					p.distance, p.quadrant = p.quadrant, ""
				}
				p.name = fmt.Sprintf("%s %d %s", filepath.Base(file), i+1, p.op)
				if p.op == "buffer" {
					p.name += " " + p.distance
				}
				texts := [2]string{c.A, c.B}
				if strings.EqualFold(test.Op.Arg1, "b") {
					texts = [2]string{c.B, c.A}
				}
				if reason := p.check(texts); reason != "" {
					aside[reason]++
				} else {
					casesRun++
				}
			}
		}
		if casesRun > before {
			filesRun++
		}
	}
	t.Logf("%d operations of %d files run", casesRun, filesRun)
	for _, reason := range slices.Sorted(maps.Keys(aside)) {
		t.Logf("%d set aside: %s", aside[reason], reason)
	}
	if casesRun < 390 {
		t.Errorf("only %d operations run", casesRun)
	}
}

// published is one operation of a published case.
type published struct {
	t                *testing.T
	name, op, want   string
	distance         string // of an offset
	quadrant         string // chords that stand for a quarter of its arcs, empty for 8
	a, b             geom.Geometry
	scale, tolerance float64
	offset           geometry.Point
	slack            float64 // how far the input's own rounding is from the grid, mm
}

func (p *published) geometry(text string) geom.Geometry {
	text = strings.TrimSpace(text)
	if text == "" {
		return geom.Geometry{}
	}
	var g geom.Geometry
	raw, err := hex.DecodeString(text)
	if err == nil {
		g, err = geom.UnmarshalWKB(withoutSystem(raw), geom.NoValidate{})
	} else {
		g, err = geom.UnmarshalWKT(strings.ReplaceAll(text, "LINEARRING", "LINESTRING"), geom.NoValidate{})
	}
	if err != nil {
		p.t.Errorf("%s: %v", p.name, err)
	}
	return g
}

// withoutSystem takes the number of the coordinate system out of well-known
// binary that has one (flag 0x20000000 of the type).
func withoutSystem(raw []byte) []byte {
	const flag = 0x20
	if high := 1 + 3*int(raw[0]); raw[high]&flag != 0 { // the order of bytes comes first
		raw[high] &^= flag
		raw = append(raw[:5:5], raw[9:]...)
	}
	return raw
}

// fit chooses offset and scale.
func (p *published) fit() {
	if p.scale > 0 {
		p.scale /= planar.PerMM
		return
	}
	box := geometry.EmptyBox()
	for _, g := range []geom.Geometry{p.a, p.b} {
		seq := g.DumpCoordinates()
		for i := range seq.Length() {
			xy := seq.GetXY(i)
			box = box.Include(geometry.Pt(xy.X, xy.Y))
		}
	}
	if p.scale = 1; !box.Empty() && box.Width()+box.Height() > 0 {
		p.offset = box.Min
		_, exp := math.Frexp(math.Max(box.Width(), box.Height()))
		p.scale = math.Ldexp(1, 15-exp) // at most 2¹⁵ mm, exact
		far := math.Max(math.Max(math.Abs(box.Min.X), math.Abs(box.Max.X)), math.Max(math.Abs(box.Min.Y), math.Abs(box.Max.Y)))
		p.slack = 4 * (math.Nextafter(far, math.Inf(1)) - far) * p.scale
	}
}

func (p *published) points(seq geom.Sequence) []geometry.Point {
	pts := make([]geometry.Point, seq.Length())
	for i := range pts {
		xy := seq.GetXY(i)
		pts[i] = geometry.Pt(xy.X, xy.Y).Sub(p.offset).Mul(p.scale)
	}
	return pts
}

// parts returns the polygons of g, each by parity, and its lines.
func (p *published) parts(g geom.Geometry) (areas []planar.Region, lines []planar.Line, points int) {
	switch g.Type() {
	case geom.TypePoint, geom.TypeMultiPoint:
		if !g.IsEmpty() {
			points++
		}
	case geom.TypeLineString:
		pts := p.points(g.MustAsLineString().Coordinates())
		for i := 1; i < len(pts); i++ {
			lines = append(lines, planar.Line{A: pts[i-1], B: pts[i]})
		}
	case geom.TypePolygon:
		if poly := g.MustAsPolygon(); !poly.IsEmpty() {
			r := planar.Region{Rule: planar.EvenOdd}
			for _, ring := range poly.DumpRings() {
				r.Rings = append(r.Rings, p.points(ring.Coordinates()))
			}
			areas = append(areas, r)
		}
	default:
		for _, part := range g.Dump() {
			a, l, n := p.parts(part)
			areas, lines, points = append(areas, a...), append(lines, l...), points+n
		}
	}
	return areas, lines, points
}

// check runs the operation and returns why it did not, or nothing.
func (p *published) check(operands [2]string) string {
	switch p.op {
	case "union", "intersection", "difference", "symdifference", "overlayareatest", "areatest",
		"unionarea", "unionlength", "polygonize", "buffer":
	default:
		return "operation " + p.op + " is not one of ours"
	}
	if reason, ok := onPurpose[p.name]; ok {
		return "on purpose: " + p.name + ": " + reason
	}
	p.a, p.b = p.geometry(operands[0]), p.geometry(operands[1])
	p.fit()
	a, linesA, pointsA := p.parts(p.a)
	b, linesB, pointsB := p.parts(p.b)
	switch {
	case p.op == "unionlength" || p.op == "polygonize" || p.op == "union" && len(a)+len(b) == 0:
		return p.checkLines(append(linesA, linesB...), a)
	case p.op == "unionarea":
		want, err := strconv.ParseFloat(strings.TrimSpace(p.want), 64)
		got := p.must(planar.Union(nil, a...))
		if area := got.Area() / (p.scale * p.scale); err != nil || math.Abs(area-want) > math.Max(p.tolerance, 1e-6*want) {
			p.t.Errorf("%s: area %.6f, expected %.6f", p.name, area, want)
		}
		return ""
	case len(linesA)+len(linesB)+pointsA+pointsB > 0:
		return p.op + " of lines or points: ours are of areas"
	case p.op == "buffer":
		p.checkOffset(a)
		return ""
	case p.op == "overlayareatest" || p.op == "areatest":
		p.checkIdentity(merged(a), merged(b))
		return ""
	}
	p.compare(p.run(p.op, a, b))
	return ""
}

// merged makes one region of polygons that do not overlap.
func merged(polygons []planar.Region) planar.Region {
	r := planar.Region{Rule: planar.EvenOdd}
	for _, p := range polygons {
		r.Rings = append(r.Rings, p.Rings...)
	}
	return r
}

func (p *published) must(ps planar.Polygons, err error) planar.Polygons {
	if err != nil {
		p.t.Errorf("%s: %v", p.name, err)
	}
	return ps
}

func (p *published) run(op string, a, b []planar.Region) planar.Polygons {
	switch op {
	case "union":
		return p.must(planar.Union(nil, append(slices.Clone(a), b...)...))
	case "intersection":
		return p.must(planar.Intersection(nil, merged(a), merged(b)))
	case "difference":
		return p.must(planar.Difference(nil, merged(a), merged(b)))
	}
	return p.must(planar.SymmetricDifference(nil, merged(a), merged(b)))
}

// checkIdentity checks |A∪B| = |A| + |B| − |A∩B| and its kin, with areas of A
// and B taken from the input.
func (p *published) checkIdentity(a, b planar.Region) {
	ra, rb := []planar.Region{a}, []planar.Region{b}
	union, common := p.run("union", ra, rb), p.run("intersection", ra, rb)
	onlyA, onlyB, either := p.run("difference", ra, rb), p.run("difference", rb, ra), p.run("symdifference", ra, rb)
	areaA, areaB := parityArea(a), parityArea(b)
	bound := (union.Perimeter()+common.Perimeter()+either.Perimeter())*(1.0/planar.PerMM) + 1e-6
	for name, off := range map[string]float64{
		"A + B − common = union":      areaA + areaB - common.Area() - union.Area(),
		"A − common = difference":     areaA - common.Area() - onlyA.Area(),
		"B − common = difference":     areaB - common.Area() - onlyB.Area(),
		"union − common = either one": union.Area() - common.Area() - either.Area(),
	} {
		if math.Abs(off) > bound {
			p.t.Errorf("%s: %s is off by %g, bound %g", p.name, name, off, bound)
		}
	}
}

// parityArea returns the area of valid polygons from their rings: the first
// of each polygon adds, the others take away; here by size, since rings of
// valid polygons do not cross.
func parityArea(r planar.Region) float64 {
	sum := 0.0
	for i, ring := range r.Rings {
		depth := 0
		for j, other := range r.Rings {
			if i == j {
				continue
			}
			for _, pt := range ring {
				if turns, on := winding(other, pt); !on {
					depth += turns & 1
					break
				}
			}
		}
		sum += math.Abs(planar.RingArea(ring)) * float64(1-2*(depth&1))
	}
	return sum
}

// checkLines checks the operations on lines.
func (p *published) checkLines(lines []planar.Line, areas []planar.Region) string {
	for _, r := range areas {
		for _, ring := range r.Rings {
			for i := range ring {
				lines = append(lines, planar.Line{A: ring[i], B: ring[(i+1)%len(ring)]})
			}
		}
	}
	m, err := planar.Arrange(nil, lines)
	if err == nil {
		err = m.Euler()
	}
	if err != nil {
		p.t.Errorf("%s: %v", p.name, err)
		return ""
	}
	switch p.op {
	case "polygonize":
		p.compare(facePolygons(m))
	case "unionlength":
		want, err := strconv.ParseFloat(strings.TrimSpace(p.want), 64)
		if got := m.Length() / p.scale; err != nil || math.Abs(got-want) > math.Max(p.tolerance, 1e-6*want) {
			p.t.Errorf("%s: length %g, expected %g", p.name, got, want)
		}
	case "union":
		if len(lines) == 0 {
			return "overlay of lines or points: ours are of areas"
		}
		_, want, _ := p.parts(p.geometry(p.want))
		sum := 0.0
		for _, l := range want {
			sum += l.A.Dist(l.B)
		}
		if off := math.Abs(m.Length() - sum); off > float64(len(m.Edges))*2/planar.PerMM {
			p.t.Errorf("%s: noded length off by %g", p.name, off)
		}
	}
	return ""
}

// facePolygons returns all bounded faces.
func facePolygons(m *planar.Map) planar.Polygons {
	var ps planar.Polygons
	for f := 1; f < len(m.Faces); f++ {
		p := planar.Polygon{Outer: m.Points(m.Faces[f].Outer)}
		for _, r := range m.Holes(int32(f)) {
			p.Holes = append(p.Holes, m.Points(r))
		}
		ps = append(ps, p)
	}
	return ps
}
