package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/stray"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// shapes are lines that a knife finds hard: radii from 0.1 mm, corners to 3°,
// steps smaller than the offset, cusps, chords for circles.
func shapes(t *testing.T) []geometry.Path {
	t.Helper()
	var all []geometry.Path
	for _, r := range []float64{0.1, 0.15, 0.2, 0.25, 0.3, 0.5, 0.9, 1, 3, 12} {
		all = append(all, geometry.Circle(geometry.Pt(15, 15), r), roundedSquare(12, math.Min(r, 6)), ngon(100, r), ngon(24, r))
	}
	for _, deg := range []float64{3, 10, 30, 60, 90, 120, 170} {
		all = append(all, wedge(deg))
	}
	for _, data := range []string{
		"M0 0L20 0L20 10L0 10Z", "M0 0L30 0L2 1L30 2", "M0 0L10 0A3 3 0 0 0 16 0L20 5",
		"M0 0C0 10 20 10 20 0C20 -4 12 -4 10 0", "M0 0C10 10 0 10 10 0", "M0 0L.1 0L.1 .1L.2 .1L.2 5",
		"M0 0C.2 .1 .1 .3 0 .4C-.3 .4 -.2 0 0 0Z", "M5 5H15V5.3H5.3V15H5Z", "M0 0Q1 20 2 0T4 0T6 0T8 0",
	} {
		all = append(all, parsed(t, data)...)
	}
	return all
}

func parsed(t *testing.T, data string) []geometry.Path {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil {
		t.Fatal(err)
	}
	return paths
}

func roundedSquare(side, r float64) geometry.Path {
	p := geometry.Path{Start: geometry.Pt(r, 0), Closed: true}
	b := math.Tan(math.Pi / 8)
	for _, c := range [][2]geometry.Point{
		{geometry.Pt(side-r, 0), geometry.Pt(side, r)}, {geometry.Pt(side, side-r), geometry.Pt(side-r, side)},
		{geometry.Pt(r, side), geometry.Pt(0, side-r)}, {geometry.Pt(0, r), geometry.Pt(r, 0)},
	} {
		p.Segments = append(p.Segments, geometry.LineTo(c[0]), geometry.ArcTo(b, c[1]))
	}
	return p
}

func ngon(n int, r float64) geometry.Path {
	pts := make([]geometry.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = geometry.Pt(15+r*cos, 15+r*sin)
	}
	return geometry.Polygon(pts...)
}

func wedge(deg float64) geometry.Path {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(20, 0), geometry.Pt(20*cos, 20*sin))
}

// laid puts lines on one sheet of card, each in a place of its own, in the order in
// which they are cut.
func laid(t *testing.T, lines []geometry.Path) *planned {
	t.Helper()
	const cell = 32
	across := int(math.Ceil(math.Sqrt(float64(len(lines)))))
	p := &planned{Results: &view.Results{}}
	p.Weeding, p.Layout = &weeding.Map{}, &layout.Layout{}
	box := geometry.EmptyBox()
	for i, line := range lines {
		corner := line.Bounds().Min
		line = line.Transform(geometry.Translate(float64(i%across)*cell+60-corner.X, float64(i/across)*cell+60-corner.Y))
		if !stray.Point(line.Bounds()) { // which the artwork leaves out
			p.Weeding.Strokes = append(p.Weeding.Strokes, artwork.Stroke{Path: line, Operation: artwork.ThroughCut})
			box = box.Union(line.Bounds())
		}
	}
	size := float64(across)*cell + 120
	p.Layout.Loads = []layout.Load{{Number: 1, WidthMM: size, LengthMM: size, Placements: []layout.Placement{{Copy: 1, Transform: geometry.Identity, Bounds: box}}}}
	p.Passes = ordered(t, p, size, 0.25, len(p.Weeding.Strokes))
	return p
}

// ordered returns passes for the first strokes on a load that is so wide, by a blade
// that trails so far.
func ordered(t *testing.T, p *planned, width, offset float64, strokes int) *passes.Plan {
	t.Helper()
	d := offsetIn(workshop.Example(), offset)
	stock, _ := d.Stock("card-160-a4")
	machine, _ := d.Machine("wide-610")
	machine.WidthMM = width
	plan, err := passes.Order(t.Context(), p.Weeding.Strokes[:strokes], p.Layout, passes.Request{Stock: stock, Machine: machine, Settings: d.Settings})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// cutBy gives the only pass to a blade that trails so far: as one stroke alone is
// cut by it on the same load, in the order that was found already.
func (p *planned) cutBy(t *testing.T, offset float64) {
	t.Helper()
	pass := &p.Passes.Loads[0].Passes[0]
	one := ordered(t, p, p.Layout.Loads[0].WidthMM, offset, 1).Loads[0].Passes[0]
	pass.Rule, pass.LeadIn = one.Rule, one.LeadIn
}

// What is hard to cut is cut true from every format, by every offset.
func TestTheTipCutsShapesLettersAndIcons(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 3))
	for _, set := range []struct {
		name  string
		lines []geometry.Path
	}{{"shapes", shapes(t)}, {"glyphs", glyphs(t)}, {"icons", icons(t)}} {
		p := laid(t, set.lines)
		for _, offset := range []float64{0.25, 0.5, 0.9} {
			t.Run(fmt.Sprintf("%d %s, %g mm", len(set.lines), set.name, offset), func(t *testing.T) {
				p.cutBy(t, offset)
				for _, r := range ownReaders() {
					checkTip(t, p, 0, r, random.Float64()*2*math.Pi)
				}
			})
		}
	}
}
