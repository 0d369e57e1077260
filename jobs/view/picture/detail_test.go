package picture_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/read"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// crowd is a piece of n wavy strokes, in copies on one sheet.
func crowd(n, copies int) (*weeding.Map, *layout.Layout, *passes.Plan) {
	side := math.Ceil(math.Sqrt(float64(n)))
	m := &weeding.Map{Bounds: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(60, 60))}
	for i := range n {
		at := geometry.Pt(60*math.Mod(float64(i), side)/side, 60*math.Floor(float64(i)/side)/side)
		size := 60 / side * (0.2 + 0.6*math.Mod(float64(i)*0.618, 1))
		p := geometry.Circle(at.Add(geometry.Pt(size/2, size/2)), size/2)
		p.Segments = append(p.Segments, geometry.CubicTo(at, at.Add(geometry.Pt(0, size)), p.Start))
		m.Strokes = append(m.Strokes, artwork.Stroke{Path: p, Operation: artwork.KissCut})
	}
	ld := layout.Load{Number: 1, WidthMM: 700, LengthMM: 420}
	ps := passes.Pass{Operation: artwork.KissCut}
	for c := range copies {
		move := geometry.Translate(10+68*float64(c%10), 5+68*float64(c/10))
		ld.Placements = append(ld.Placements, layout.Placement{Copy: c + 1, Transform: move, Bounds: geometry.BoxAround(move.Apply(m.Bounds.Min), move.Apply(m.Bounds.Max))})
		for i := range m.Strokes {
			ps.Runs = append(ps.Runs, passes.Run{Copy: c + 1, Stroke: i, At: move.Apply(m.Strokes[i].Path.Start)})
		}
	}
	return m, &layout.Layout{Loads: []layout.Load{ld}}, &passes.Plan{Loads: []passes.Load{{Number: 1, Passes: []passes.Pass{ps}}}}
}

// mostBytes bounds the SVG of any picture.
const mostBytes = 2 << 20

// However much there is to draw, a picture stays small and says what it leaves
// out.
func TestMuchToDraw(t *testing.T) {
	m, l, pp := crowd(5000, 60)
	a := &artwork.Artwork{Bounds: m.Bounds, Strokes: m.Strokes}
	d := &read.Result{}
	for i := range 200_000 {
		x, y := float64(i%500), float64(i/500)
		p := geometry.Polyline(geometry.Pt(x, y), geometry.Pt(x+0.4, y+0.9))
		colour := drawing.Colour{R: uint8(i % 7 * 30), G: uint8(i % 5 * 40)}
		d.Shapes = append(d.Shapes, drawing.Shape{Paths: []geometry.Path{p}, Stroke: &colour})
	}
	layout, err := picture.Layout(t.Context(), l, m, 1)
	if err != nil {
		t.Fatal(err)
	}
	passes, err := picture.Passes(t.Context(), pp, l, m, 1)
	if err != nil {
		t.Fatal(err)
	}
	for stage, p := range map[string]*figure.Picture{
		"artwork": must(picture.Artwork(t.Context(), a)), "layout": layout, "passes": passes, "drawing": must(picture.Drawing(t.Context(), d)), "weeding": must(picture.Weeding(t.Context(), &weeding.Map{Bounds: m.Bounds, Strokes: m.Strokes})),
	} {
		svg := svgOf(t, p)
		if len(svg) > mostBytes {
			t.Errorf("%s: %d bytes of SVG", stage, len(svg))
		}
		notes := strings.Join(texts(parse(t, svg), "notes"), " ")
		if told := strings.Contains(notes, "only one is shown"); told != (stage == "layout" || stage == "passes" || stage == "drawing") {
			t.Errorf("%s: says that lines are left out: %t", stage, told)
		}
		if n := len(svg); n < 200_000 {
			t.Errorf("%s: hardly anything is left in %d bytes", stage, n)
		}
		t.Logf("%s: %d bytes of SVG; %s", stage, len(svg), notes)
	}
}

// Thinning does not show: a wave of far more points than there is room for
// looks like the same wave of few.
func TestThinnedPictureLooksAlike(t *testing.T) {
	drawn := func(points int) grey {
		pts := make([]geometry.Point, points)
		for i := range pts {
			x := 300 * float64(i) / float64(points-1)
			pts[i] = geometry.Pt(x, 100*math.Sin(x/3))
		}
		wave := geometry.Polyline(pts...)
		a := &artwork.Artwork{Bounds: geometry.BoxAround(geometry.Pt(0, -100), geometry.Pt(300, 100)), Strokes: []artwork.Stroke{{Path: wave, Operation: artwork.KissCut}}}
		data, err := must(picture.Artwork(t.Context(), a)).PNG(t.Context(), 1)
		if err != nil {
			t.Fatal(err)
		}
		return greyOf(decode(t, data), side)
	}
	mean, most := drawn(20_000).differ(drawn(400_000))
	if mean > mostMean || most > mostApart {
		t.Errorf("thinned out, the picture differs by %.2f on the mean, %.1f at most", mean, most)
	}
	t.Logf("thinned out, the picture differs by %.2f on the mean, %.1f at most", mean, most)
}

// BenchmarkMuchToDraw draws 60 copies of 5,000 strokes.
func BenchmarkMuchToDraw(b *testing.B) {
	m, l, pp := crowd(5000, 60)
	b.Run("layout", func(b *testing.B) {
		for b.Loop() {
			if _, err := picture.Layout(b.Context(), l, m, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	p, err := picture.Passes(b.Context(), pp, l, m, 1)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("passes", func(b *testing.B) {
		for b.Loop() {
			if _, err := picture.Passes(b.Context(), pp, l, m, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("SVG", func(b *testing.B) {
		for b.Loop() {
			b.ReportMetric(float64(len(svgOf(b, p))), "bytes")
		}
	})
	b.Run("PNG", func(b *testing.B) {
		for b.Loop() {
			if _, err := p.PNG(b.Context(), 1.5); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkWeeding draws a weeding map of growing numbers of regions.
func BenchmarkWeeding(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10_000} {
		m := squares(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				p := must(picture.Weeding(b.Context(), m))
				if _, err := p.PNG(b.Context(), p.ScaleUpTo(1.5)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// squares is a map of n square counters in a plate.
func squares(n int) *weeding.Map {
	side := math.Ceil(math.Sqrt(float64(n)))
	plate := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(300, 300)).Path()
	m := &weeding.Map{Purpose: weeding.Lettering, Bounds: plate.Bounds(), Strokes: []artwork.Stroke{{Path: plate, Operation: artwork.KissCut}}}
	kept := weeding.Region{Number: 1, Class: weeding.Kept, Outer: plate}
	for i := range n {
		w := 300 / side
		at := geometry.Pt(w*(0.25+math.Mod(float64(i), side)), w*(0.25+math.Floor(float64(i)/side)))
		q := geometry.BoxAround(at, at.Add(geometry.Pt(w/2, w/2))).Path()
		kept.Holes = append(kept.Holes, q.Reversed())
		c := weeding.Region{Number: i + 2, Class: weeding.Counter, Outer: q, Pick: q.Bounds().Centre(), PickRadiusMM: w / 4}
		m.Regions = append(m.Regions, c)
		m.Strokes = append(m.Strokes, artwork.Stroke{Path: q, Operation: artwork.KissCut})
		m.Steps = append(m.Steps, weeding.Step{Order: i + 1, Region: c.Number, Pick: c.Pick})
	}
	m.Regions = append([]weeding.Region{kept}, m.Regions...)
	return m
}
