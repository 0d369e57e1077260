package picture_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// hundredth is the rounding of coordinates in an SVG, at both ends of a length.
const hundredth = 0.011

// boxOf returns the box of all paths of a zone whose stroke is one of inks.
func boxOf(t testing.TB, all []element, zone string, inks ...string) geometry.Box {
	t.Helper()
	b := geometry.EmptyBox()
	for _, e := range all {
		if e.name == "path" && e.zone == zone && slices.Contains(inks, e.attrs["stroke"]) {
			for _, q := range e.paths(t) {
				b = b.Union(q.Bounds())
			}
		}
	}
	return b
}

// bar returns the length of the scale bar in pixels, and its label in mm.
func bar(t testing.TB, all []element) (pixels, mm float64) {
	t.Helper()
	b := geometry.EmptyBox()
	for _, e := range all {
		if e.zone == "scale" && e.name == "path" && e.attrs["fill"] == "none" {
			b = e.paths(t)[0].Bounds()
			break // the first panel's
		}
	}
	for _, text := range texts(all, "scale") {
		if number, ok := strings.CutSuffix(text, " mm"); ok {
			mm, err := strconv.ParseFloat(number, 64)
			if err != nil {
				t.Fatal(err)
			}
			return b.Width(), mm
		}
	}
	t.Fatal("no scale bar")
	return 0, 0
}

// A drawing of any size is drawn with the same scale along both axes, the one
// that the scale bar states.
func TestTrueProportions(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		w := math.Pow(10, rapid.Float64Range(-1, 4).Draw(rt, "w"))
		h := w * math.Pow(10, rapid.Float64Range(-1.5, 1.5).Draw(rt, "ratio"))
		outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(w, h))
		a := artwork.Artwork{Bounds: outline, Strokes: []artwork.Stroke{{Path: outline.Path(), Operation: artwork.ThroughCut}}}
		all := parse(t, svgOf(t, must(picture.Artwork(t.Context(), &a))))
		drawn := boxOf(t, all, "drawing", "#16203f")
		pixels, mm := bar(t, all)
		scale := pixels / mm
		if math.Abs(drawn.Width()-w*scale) > hundredth*(1+w/mm) || math.Abs(drawn.Height()-h*scale) > hundredth*(1+h/mm) {
			rt.Fatalf("%g × %g mm is drawn %g × %g pixels, %g pixels are %g mm", w, h, drawn.Width(), drawn.Height(), pixels, mm)
		}
		if round := math.Pow(10, math.Round(math.Log10(mm))); mm/round != 1 && mm/round != 2 && math.Abs(mm/round-0.5) > 1e-9 {
			rt.Fatalf("the bar is %g mm, not a round length", mm)
		}
		if pixels < 60 || pixels > 190 {
			rt.Fatalf("the bar is %g pixels long", pixels)
		}
	})
}

// Stock is in true proportion in the layout, also where a roll lies on its
// side; the whole stock is in the picture.
func TestStockInProportion(t *testing.T) {
	for _, name := range []string{"class-tag", "banner", "tide-label", "ring-sign"} {
		p := example(t, name)
		all := parse(t, svgOf(t, p.pictures(t)["layout"]))
		ld := p.layout.Loads[0]
		pixels, mm := bar(t, all)
		drawn := geometry.EmptyBox()
		for _, e := range all {
			if e.zone == "drawing" && e.name == "path" {
				drawn = drawn.Union(e.paths(t)[0].Bounds())
				break
			}
		}
		want := []float64{ld.WidthMM, ld.LengthMM}
		got := []float64{drawn.Width() * mm / pixels, drawn.Height() * mm / pixels}
		slices.Sort(want)
		slices.Sort(got)
		for i := range got {
			if math.Abs(got[i]-want[i]) > 2e-3*want[1] {
				t.Errorf("%s: stock of %v mm is drawn as %v mm", name, want, got)
			}
		}
	}
}

// A long roll is drawn in lengths one below the other, each in proportion, and
// every copy gets its number once.
func TestLongRoll(t *testing.T) {
	outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(500, 300))
	m := weeding.Map{Bounds: outline, Strokes: []artwork.Stroke{{Path: outline.Path(), Operation: artwork.KissCut}}}
	l := layout.Layout{Usage: layout.Usage{RollMM: 12_300}}
	ld := layout.Load{Number: 1, WidthMM: 610, LengthMM: 12_300}
	runs := []passes.Run{}
	for i := range 40 {
		at := geometry.Translate(50, 10+305*float64(i))
		ld.Placements = append(ld.Placements, layout.Placement{Copy: i + 1, Transform: at, Bounds: geometry.BoxAround(at.Apply(outline.Min), at.Apply(outline.Max))})
		runs = append(runs, passes.Run{Copy: i + 1, At: at.Apply(outline.Min)})
	}
	l.Loads = []layout.Load{ld}
	p, err := picture.Layout(t.Context(), &l, &m, 1)
	if err != nil {
		t.Fatal(err)
	}
	all := parse(t, svgOf(t, p))
	rows := 0
	for _, text := range texts(all, "notes") {
		if strings.HasSuffix(text, "mm from the loading edge") {
			rows++
		}
	}
	if rows < 4 {
		t.Errorf("a roll of 12.3 m is drawn in %d rows", rows)
	}
	want := make([]string, 40)
	for i := range want {
		want[i] = strconv.Itoa(i + 1)
	}
	got := texts(all, "marks")
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("copies are numbered %v", got)
	}
	plan := passes.Plan{Loads: []passes.Load{{Number: 1, Passes: []passes.Pass{{Operation: artwork.KissCut, Runs: runs}}}}}
	if _, err := picture.Passes(t.Context(), &plan, &l, &m, 1); err != nil {
		t.Error(err)
	}
}

// The dimensions say the size, and lie on the page.
func TestDimensions(t *testing.T) {
	for _, s := range [][2]float64{{180, 120}, {1740, 3}, {3, 1740}, {0.5, 0.5}, {12345.6, 9876.5}} {
		outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(s[0], s[1]))
		a := artwork.Artwork{Bounds: outline, Strokes: []artwork.Stroke{{Path: outline.Path(), Operation: artwork.ThroughCut}}}
		p := must(picture.Artwork(t.Context(), &a))
		all := parse(t, svgOf(t, p))
		marks := texts(all, "marks")
		for _, v := range s {
			if want := strconv.FormatFloat(v, 'f', -1, 64) + " mm"; !slices.Contains(marks, want) {
				t.Errorf("%v: no dimension %q among %q", s, want, marks)
			}
		}
		for _, e := range all {
			if e.name == "text" && e.zone == "marks" {
				x, y, half := e.number(t, "x"), e.number(t, "y"), 5*float64(len([]rune(e.text)))
				if x-half < 0 || x+half > p.Width || y > p.Height {
					t.Errorf("%v: %q at %g, %g runs off the page", s, e.text, x, y)
				}
			}
		}
	}
}

// Nothing, points, lines without width and numbers that are none are drawn as
// pictures like any other.
func TestNothingToDraw(t *testing.T) {
	point := geometry.Polyline(geometry.Pt(3, 3), geometry.Pt(3, 3))
	level := geometry.Polyline(geometry.Pt(0, 5), geometry.Pt(100, 5))
	broken := geometry.Polyline(geometry.Pt(0, math.NaN()), geometry.Pt(math.Inf(1), 5))
	for name, path := range map[string]geometry.Path{"nothing": {}, "point": point, "line": level, "broken": broken} {
		strokes := []artwork.Stroke{{Path: path, Operation: artwork.KissCut}}
		d := read.Result{Drawing: drawing.Drawing{Shapes: []drawing.Shape{{Paths: []geometry.Path{path}}}}}
		if name == "nothing" {
			strokes, d.Shapes = nil, nil
		}
		a := artwork.Artwork{Strokes: strokes, Bounds: path.Bounds()}
		for stage, p := range map[string]*figure.Picture{
			"drawing": must(picture.Drawing(t.Context(), &d)), "size": must(picture.Size(t.Context(), &d, &size.Result{})), "artwork": must(picture.Artwork(t.Context(), &a)),
			"weeding": must(picture.Weeding(t.Context(), &weeding.Map{Strokes: strokes, Bounds: path.Bounds()})),
		} {
			svg := svgOf(t, p)
			parse(t, svg)
			if bad := regexp.MustCompile(`NaN|Inf`).Find(svg); bad != nil {
				t.Errorf("%s/%s: the SVG holds %s", name, stage, bad)
			}
			if _, err := p.PNG(t.Context(), 1); err != nil {
				t.Errorf("%s/%s: %v", name, stage, err)
			}
			if notes := fmt.Sprint(texts(parse(t, svg), "notes")); name == "nothing" && !strings.Contains(notes, "There is no") {
				t.Errorf("%s: does not say that there is nothing: %s", stage, notes)
			}
		}
	}
	if _, err := picture.Layout(t.Context(), &layout.Layout{}, &weeding.Map{}, 1); err == nil {
		t.Error("a load that is not there is drawn")
	}
	if _, err := picture.Passes(t.Context(), &passes.Plan{}, &layout.Layout{Loads: make([]layout.Load, 1)}, &weeding.Map{}, 1); err == nil {
		t.Error("a load without passes is drawn")
	}
}
