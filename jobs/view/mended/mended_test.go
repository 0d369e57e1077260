package mended_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/view/mended"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// card is a request for A4 card by the convention of the example workshop.
func card() *plan.Request {
	return &plan.Request{
		Purpose: weeding.Pieces, Convention: workshop.Example().Conventions[0],
		Stock: workshop.Stock{ID: "card", Family: workshop.LightCard, Form: workshop.Sheet, WidthMM: 210, LengthMM: 297},
	}
}

// cut is a rectangle that is cut.
func cut(x, y, w, h float64) artwork.Stroke {
	return artwork.Stroke{Path: geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x+w, y+h)).Path(), Operation: artwork.ThroughCut, Layer: "CUT"}
}

// of are the results of a drawing whose artwork is strokes.
func of(strokes ...artwork.Stroke) *view.Results {
	return &view.Results{Drawing: &read.Result{}, Size: &size.Result{Transform: geometry.Identity}, Artwork: &artwork.Artwork{Strokes: strokes}}
}

func made(t *testing.T, r *view.Results, q *plan.Request) *layered.File {
	t.Helper()
	f, err := mended.New(t.Context(), r, q, view.SVG)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// told lists the layers of a file with the boxes of their lines, a layer a line.
func told(f *layered.File) string {
	var b strings.Builder
	for _, l := range f.Layers {
		fmt.Fprintf(&b, "%s %s:", l.Name, l.Colour)
		for _, p := range l.Paths {
			box := p.Bounds()
			fmt.Fprintf(&b, " %g,%g %gx%g", box.Min.X, box.Min.Y, box.Width(), box.Height())
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Work without a frame gets one: as large as the sheet that holds it, upright or lying, else
// 10 mm beside it in whole mm, of a stencil by its margin. By hand: the work lies in the
// middle of it, and the frame alone says how large the page is.
func TestNewFrames(t *testing.T) {
	for _, c := range []struct {
		name         string
		stock        workshop.Stock
		purpose      weeding.Purpose
		w, h         float64
		frame        string // as it is told in the title; "" for none
		layer        string
		wide, length float64
		at           geometry.Point // of the work on the page
	}{
		{"an upright sheet", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, "", 80, 50, "210 x 297", "PAGE", 210, 297, geometry.Pt(65, 123.5)},
		{"a lying sheet", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, "", 250, 100, "297 x 210", "PAGE", 297, 210, geometry.Pt(23.5, 55)},
		{"a sheet that is just filled", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, "", 209, 296, "210 x 297", "PAGE", 210, 297, geometry.Pt(0.5, 0.5)},
		{"as large as the sheet", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, "", 210, 297, "230 x 317", "PAGE_230x317", 230, 317, geometry.Pt(10, 10)},
		{"larger than the sheet", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, "", 400, 100, "420 x 120", "PAGE_420x120", 420, 120, geometry.Pt(10, 10)},
		{"a roll", workshop.Stock{Form: workshop.Roll, WidthMM: 610}, "", 80, 50, "100 x 70", "PAGE_100x70", 100, 70, geometry.Pt(10, 10)},
		{"a roll, in whole mm", workshop.Stock{Form: workshop.Roll, WidthMM: 610}, "", 80.4, 50.5, "101 x 71", "PAGE_101x71", 101, 71, geometry.Pt(10.3, 10.25)},
		{"a stencil", workshop.Stock{Form: workshop.Sheet, WidthMM: 210, LengthMM: 297}, weeding.Stencil, 80, 50, "130 x 100", "PAGE_130x100", 130, 100, geometry.Pt(25, 25)},
		{"a stencil by its own margin", workshop.Stock{Form: workshop.Roll, WidthMM: 210, Limits: workshop.Limits{BridgeMM: 1, Stencil: workshop.StencilLimits{TwoBelowMM: 15, ThreeToMM: 60, EachMM: 40, MarginMM: 12, LeastMarginMM: 10}}}, weeding.Stencil, 80, 50, "104 x 74", "PAGE_104x74", 104, 74, geometry.Pt(12, 12)},
		{"as large as a paper by chance", workshop.Stock{Form: workshop.Roll, WidthMM: 610}, "", 128, 190, "148 x 210", "PAGE", 148, 210, geometry.Pt(10, 10)},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := card()
			c.stock.Family = workshop.LightCard
			q.Stock = c.stock
			if c.purpose != "" {
				q.Purpose = c.purpose
			}
			f := made(t, of(cut(7, -3, c.w, c.h)), q)
			if f.Title != "Mended drawing at true size, frame "+c.frame+" mm" || f.Width != c.wide || f.Length != c.length {
				t.Errorf("%q, a page of %g × %g mm", f.Title, f.Width, f.Length)
			}
			want := fmt.Sprintf("%s #909090: 0,0 %gx%g\nCUT #007c91: %g,%g %gx%g\nFOLD #7a3eb1:\nPERFORATE #a82f6d:\nPEN #4a5568:\nNOTES #606060:\n", c.layer, c.wide, c.length, c.at.X, c.at.Y, c.w, c.h)
			if diff := cmp.Diff(want, told(f)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// A frame that was drawn is kept where it lies about the work, at true size, where the file
// read anew is told by it: by the size of a paper, or by whole mm on its layer. One that is
// cut as well, that is no whole mm or that is left in the drawing gives way to a new one. The
// work is 80 by 50 mm, 20 and 30 mm from the corner of the frame, whose sides are in units.
func TestDrawnFrames(t *testing.T) {
	const upright, fresh = "210 x 297 PAGE at 20,30", "100 x 70 PAGE_100x70 at 10,10"
	for _, c := range []struct {
		name   string
		w, l   float64
		change func(*view.Results, *plan.Request)
		want   string
	}{
		{"a paper", 210, 297, nil, upright}, {"a paper that lies", 297, 210, nil, "297 x 210 PAGE at 20,30"}, {"a paper, nearly", 210.03, 297, nil, "210 x 297 PAGE at 20,30"},
		{"whole mm", 200, 150, nil, "200 x 150 PAGE_200x150 at 20,30"}, {"no whole mm", 200.5, 150, nil, fresh}, {"no whole mm, up", 200, 150.5, nil, fresh},
		{"in inches", 210 / 25.4, 297 / 25.4, func(r *view.Results, _ *plan.Request) { r.Size.Transform = geometry.Scale(25.4, 25.4) }, upright},
		{"made twice as large", 105, 148.5, func(r *view.Results, _ *plan.Request) { r.Artwork.Scale = 2 }, upright},
		{"moved", 210, 297, func(r *view.Results, _ *plan.Request) {
			r.Artwork.Origin, r.Artwork.Strokes = geometry.Pt(20, 30), []artwork.Stroke{cut(0, 0, 80, 50)}
		}, upright},
		{"not taken out", 210, 297, func(r *view.Results, _ *plan.Request) { r.Size.FrameParts = nil }, fresh},
		{"cut as well", 210, 297, func(r *view.Results, _ *plan.Request) {
			r.Artwork.Strokes = append(r.Artwork.Strokes, cut(0.5, 0, 209.5, 297))
		}, "230 x 317 PAGE_230x317 at 29.75,40"},
		{"of a stock that is smaller", 210, 297, func(r *view.Results, q *plan.Request) {
			q.Stock.Form, q.Stock.WidthMM, q.Stock.LengthMM = workshop.Sheet, 70, 60
		}, "210 x 297 PAGE_210x297 at 20,30"},
	} {
		q, r := card(), of(cut(20, 30, 80, 50))
		q.Stock.Form, q.Stock.WidthMM, q.Stock.LengthMM = workshop.Roll, 610, 25_000
		r.Size.Frame = &size.Frame{Corners: [4]geometry.Point{{}, {X: c.w}, {X: c.w, Y: c.l}, {Y: c.l}}}
		r.Size.FrameParts = make([]size.Part, 1)
		if c.change != nil {
			c.change(r, q)
		}
		f := made(t, r, q)
		var sides [2]float64
		if _, err := fmt.Sscanf(f.Title, "Mended drawing at true size, frame %g x %g mm", &sides[0], &sides[1]); err != nil {
			t.Errorf("%s: %q, %v", c.name, f.Title, err)
		}
		at := f.Layers[1].Paths[0].Bounds().Min
		if got := fmt.Sprintf("%g x %g %s at %g,%g", sides[0], sides[1], f.Layers[0].Name, at.X, at.Y); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// From the map on a file holds what is welded and bridged, and nothing that is added for the
// bench; curves that go straight on evenly are lines, and what has no length is left out.
func TestLinesOfAMap(t *testing.T) {
	r := of(cut(0, 0, 1, 1))
	added := func(x float64, what artwork.Added) artwork.Stroke {
		s := cut(x, 0, 5, 5)
		s.Added = what
		return s
	}
	straight := artwork.Stroke{Operation: artwork.ThroughCut, Layer: "CUT", Path: geometry.Path{Start: geometry.Pt(60, 0), Segments: []geometry.Segment{
		geometry.CubicTo(geometry.Pt(60, 10), geometry.Pt(60, 20), geometry.Pt(60, 30)), geometry.LineTo(geometry.Pt(60+1e-8, 30)), geometry.CubicTo(geometry.Pt(70, 30), geometry.Pt(80, 35), geometry.Pt(90, 40)),
	}}}
	r.Weeding = &weeding.Map{Strokes: []artwork.Stroke{cut(0, 0, 30, 20), added(40, artwork.Bridge), added(50, artwork.Relief), added(55, artwork.Border), added(57, artwork.Mark), straight}}
	var kinds []geometry.Kind
	cuts := made(t, r, card()).Layers[1].Paths
	for _, s := range cuts[len(cuts)-1].Segments {
		kinds = append(kinds, s.Kind)
	}
	if len(cuts) != 3 || len(kinds) != 2 || kinds[0] != geometry.Line || kinds[1] != geometry.Cubic {
		t.Errorf("%d lines, the last of kinds %v", len(cuts), kinds)
	}
}

// A line of arcs and other curves has no arcs in DXF, which cannot hold both, and runs where it
// ran; in SVG, and where all curves are arcs, it keeps them.
func TestCurvesByFormat(t *testing.T) {
	half := geometry.ArcTo(1, geometry.Pt(10, 10))
	wave := geometry.CubicTo(geometry.Pt(7, 14), geometry.Pt(3, 6), geometry.Pt(0, 10))
	for _, c := range []struct {
		format       view.Format
		curve        geometry.Segment
		arcs, cubics int // cubics at least
	}{{view.SVG, wave, 1, 1}, {view.DXF, wave, 0, 2}, {view.DXF, geometry.ArcTo(0.5, geometry.Pt(0, 10)), 2, 0}} {
		path := geometry.Path{Start: geometry.Pt(0, 0), Segments: []geometry.Segment{geometry.LineTo(geometry.Pt(10, 0)), half, c.curve, geometry.LineTo(geometry.Pt(0, 0))}, Closed: true}
		f, err := mended.New(t.Context(), of(artwork.Stroke{Operation: artwork.ThroughCut, Layer: "CUT", Path: path}), card(), c.format)
		if err != nil {
			t.Fatal(err)
		}
		got, arcs, cubics := f.Layers[1].Paths[0], 0, 0
		for _, s := range got.Segments {
			switch s.Kind {
			case geometry.Arc:
				arcs++
			case geometry.Cubic:
				cubics++
			}
		}
		if arcs != c.arcs || cubics < c.cubics || c.cubics == 0 && cubics > 0 || math.Abs(got.Length()-path.Length()) > 1e-3 || math.Abs(math.Abs(got.Area())-math.Abs(path.Area())) > 1e-2 {
			t.Errorf("%s: %d arcs and %d other curves, %g mm round %g mm²; drawn %g and %g", c.format, arcs, cubics, got.Length(), got.Area(), path.Length(), path.Area())
		}
	}
}

// Where a convention reads the usual name of the frame's layer as another thing, the frame
// lies on the next that means nothing.
func TestSpareLayers(t *testing.T) {
	for layer, want := range map[string]string{"OTHER": "PAGE", "PAGE": "PAGE 2", "PAGE*": "PAGE 8"} {
		q := card()
		q.Convention.Rules = []workshop.Rule{{Layer: layer, Means: workshop.MeansScore}, {Layer: "CUT", Means: workshop.MeansCut}}
		f := made(t, of(cut(0, 0, 80, 50)), q)
		found := ""
		for _, l := range f.Layers {
			if strings.HasPrefix(l.Name, "PAGE") && len(l.Paths) == 1 {
				found = l.Name
			}
		}
		if found != want {
			t.Errorf("beside %s the frame lies on %q, want %q:\n%s", layer, found, want, told(f))
		}
	}
}

// By a convention that has no layer for the frame, one that is no paper is the smallest
// paper that leaves 10 mm beside the work, and lies as that does; what is larger than all has
// none, and 10 mm of page beside it. The sizes are those of ISO 216.
func TestFramesWithoutALayer(t *testing.T) {
	for _, c := range []struct {
		w, h, wide, length float64
		title              string
	}{
		{100, 60, 148, 105, ", frame 148 x 105 mm"}, {60, 100, 105, 148, ", frame 105 x 148 mm"}, {100, 86, 210, 148, ", frame 210 x 148 mm"}, {3000, 20, 3020, 40, ""},
	} {
		q := card()
		q.Stock.Form, q.Stock.WidthMM, q.Stock.LengthMM = workshop.Roll, 4000, 0
		q.Convention.Rules = []workshop.Rule{{Layer: "CUT", Means: workshop.MeansCut}}
		f := made(t, of(cut(0, 0, c.w, c.h)), q)
		if f.Title != "Mended drawing at true size"+c.title || f.Width != c.wide || f.Length != c.length {
			t.Errorf("of %g × %g mm: %q, a page of %g × %g mm:\n%s", c.w, c.h, f.Title, f.Width, f.Length, told(f))
		}
	}
}

// Each line goes to the layer of what is done along it, folds to a side that the convention
// tells apart to theirs, whatever their colour; what waits for an answer stays on its layer and in its
// colour, a layer of its own where another has the name; what is not cut goes to the notes.
func TestLinesGoToTheirLayers(t *testing.T) {
	q := card()
	violet := drawing.Colour{R: 0x7a, G: 0x3e, B: 0xb1}
	q.Convention.Rules = append(q.Convention.Rules, workshop.Rule{Layer: "RIDGE", Means: workshop.MeansScore, Fold: workshop.Mountain})
	stroke := func(x float64, op artwork.Operation, layer string, colour *drawing.Colour) artwork.Stroke {
		s := cut(x, 40, 2, 2)
		s.Operation, s.Layer, s.Colour = op, layer, colour
		return s
	}
	r := of(
		cut(0, 0, 200, 100), stroke(10, artwork.KissCut, "any", nil), stroke(20, artwork.Score, "any", &violet), stroke(30, artwork.Perforate, "any", nil),
		stroke(40, artwork.Pen, "any", nil), stroke(50, artwork.Score, "RIDGE", nil),
	)
	shape := func(x float64, layer string, colour drawing.Colour) drawing.Shape {
		return drawing.Shape{Layer: layer, Stroke: &colour, Paths: []geometry.Path{cut(x, 40, 2, 2).Path}, Nested: 1}
	}
	red := drawing.Colour{R: 0xff}
	r.Drawing.Shapes = []drawing.Shape{shape(60, "CUT", red), shape(70, "sketch", red), shape(80, "notes of mine", drawing.Colour{}), shape(90, "", red)}
	r.Artwork.Aside = []artwork.Span{{From: 0, To: 2, Open: true}, {From: 2, To: 3}, {From: 3, To: 4, Open: true}}
	const want = `PAGE #909090: 0,0 210x297
CUT #007c91: 5,98.5 200x100 15,138.5 2x2
FOLD #7a3eb1: 25,138.5 2x2
RIDGE #b03a2e: 55,138.5 2x2
PERFORATE #a82f6d: 35,138.5 2x2
PEN #4a5568: 45,138.5 2x2
NOTES #606060: 85,138.5 2x2
CUT 2 #ff0000: 65,138.5 2x2
sketch #ff0000: 75,138.5 2x2
0 #ff0000: 95,138.5 2x2
`
	f := made(t, r, q)
	if diff := cmp.Diff(want, told(f)); diff != "" {
		t.Error(diff)
	}
	if want := "3 lines wait for an answer and are as drawn. What is not cut is on layer NOTES."; f.Says != want {
		t.Errorf("it says %q, want %q", f.Says, want)
	}
	q.Convention.Rules = []workshop.Rule{{Layer: "CUT", Means: workshop.MeansCut}, {Layer: "PAGE", Means: workshop.MeansFrame}, {Layer: "sketch", Means: workshop.MeansNothing}}
	r.Artwork.Aside = []artwork.Span{{From: 2, To: 4}}
	if f := made(t, r, q); !strings.Contains(f.Says, "What is not cut is on layer sketch.") {
		t.Errorf("it says %q:\n%s", f.Says, told(f))
	}
	q.Convention.Rules = q.Convention.Rules[:2]
	if f := made(t, r, q); f.Says != "Not in this file, though in the drawing that arrived: 2 lines that are not cut." {
		t.Errorf("it says %q:\n%s", f.Says, told(f))
	}
}

// What of the drawing a mended file does not hold is said in it, one and several of each, in
// the order in which it was found; findings by which nothing is lost are not.
func TestSaysWhatIsLost(t *testing.T) {
	codes := []finding.Code{
		finding.LiveText, finding.RasterImage, finding.HiddenGeometry, finding.ExternalReference, finding.ForeignContent, finding.MarkerIgnored, finding.PaperSpace, finding.HatchListed,
		finding.DimensionListed, finding.PointListed, finding.EndlessLine, finding.SolidListed, finding.UnknownElement, finding.UnknownEntity, finding.SplineBroken, finding.EntityBroken,
		finding.BadNumber, finding.OutOfRange, finding.DashedLine,
	}
	for n, want := range map[int]string{
		1: "1 text that can still be typed in, 1 picture of pixels, 1 hidden shape, 1 part in another file, 1 box of flowing text, end marks of 1 line, 1 shape on the print layout, " +
			"1 filled or hatched area, 1 measure or note, 1 point, 1 endless line, 1 part drawn in space, 1 part of a kind that is not read, 1 part of a kind that is not read, " +
			"1 damaged shape, 1 damaged shape, 1 damaged shape, 1 damaged shape, 1 shape without line or fill, 1 line that was left out",
		2: "2 texts that can still be typed in, 2 pictures of pixels, 2 hidden shapes, 2 parts in another file, 2 boxes of flowing text, end marks of 2 lines, 2 shapes on the print layout, " +
			"2 filled or hatched areas, 2 measures or notes, 2 points, 2 endless lines, 2 parts drawn in space, 2 parts of a kind that is not read, 2 parts of a kind that is not read, " +
			"2 damaged shapes, 2 damaged shapes, 2 damaged shapes, 2 damaged shapes, 2 shapes without line or fill, 2 lines that were left out",
	} {
		r := of(cut(0, 0, 80, 50))
		for _, c := range codes {
			r.Drawing.Findings = append(r.Drawing.Findings, finding.Finding{Code: c, Count: n})
		}
		r.Artwork.Findings = []finding.Finding{{Code: finding.DashedLine, Count: n + 5}, {Code: finding.UnpaintedGeometry, Count: n}}
		r.Size.LeftOut = make([]size.Part, n)
		r.Artwork.Stack = &artwork.Stack{Layers: make([]artwork.Layer, 3)}
		want := "Not in this file, though in the drawing that arrived: " + want + ". This is one of 3 films that are laid on each other, with its register marks."
		if diff := cmp.Diff(want, made(t, r, card()).Says); diff != "" {
			t.Error(diff)
		}
	}
	if says := made(t, of(cut(0, 0, 80, 50)), card()).Says; says != "" {
		t.Errorf("of nothing it says %q", says)
	}
}
