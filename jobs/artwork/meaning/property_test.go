package meaning_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// demo draws things like those of the demo, with faults of every kind.
func demo(t testing.TB) []drawing.Shape {
	return []drawing.Shape{
		cut(t, "M0 0H160V140H0Z"), cut(t, "M0 0H160V140H0Z"),
		cut(t, "M30 20H40"), cut(t, "M40 20V20.08"), cut(t, "M30 20V26H40V20"),
		shape(t, "M0 70H160", "FOLD", violet), shape(t, "M80 70H160", "fold", violet),
		shape(t, "M10 100H60", "", drawing.RGB(0x7a, 0x3e, 0xc0)),
		shape(t, "M10 110H60", "Guides", drawing.RGB(0, 0, 0)),
		filled(t, "M100 20H120V40H100ZM105 25V35H115V25Z", "", teal),
		cut(t, "M20 120A10 10 0 0 1 40 120"), cut(t, "M40 120A10 10 0 0 1 20.3 120"),
		cut(t, "M60 120C70 130 80 110 90 120"), cut(t, "M90 120C80 110 70 130 60 120"),
		shape(t, "M60 100H70", "PEN", slate), cut(t, "M140 -2V10"),
	}
}

// The order of the shapes is where they lie in the file and says nothing.
func TestOrderOfShapesChangesNothing(t *testing.T) {
	shapes := demo(t)
	request := request(t, card)
	want := resolve(t, request, shapes...)
	property.Check(t, func(rt *rapid.T) {
		got := resolve(t, request, rapid.Permutation(shapes).Draw(rt, "shapes")...)
		a, b := texts(want), texts(got)
		slices.Sort(a)
		slices.Sort(b)
		if d := cmp.Diff(a, b); d != "" {
			rt.Fatalf("strokes differ:\n%s", d)
		}
		if d := cmp.Diff(want.Findings, got.Findings); d != "" {
			rt.Fatalf("findings differ:\n%s", d)
		}
		if d := cmp.Diff(want.Questions, got.Questions); d != "" {
			rt.Fatalf("questions differ:\n%s", d)
		}
	})
}

// What is too dense is so in every order, by the same measure and at the same
// place.
func TestOrderChangesNoRefusal(t *testing.T) {
	var shapes []drawing.Shape
	for i := range 450 {
		shapes = append(shapes, cut(t, fmt.Sprintf("M0 %dH900", 2*i)), cut(t, fmt.Sprintf("M%d 0V900", 2*i)))
	}
	want := find(resolve(t, request(t, card), shapes...), finding.TooDense)
	if want == nil {
		t.Fatal("the lines are not too dense")
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		r.Shuffle(len(shapes), func(i, k int) { shapes[i], shapes[k] = shapes[k], shapes[i] })
		if d := cmp.Diff(want, find(resolve(t, request(t, card), shapes...), finding.TooDense)); d != "" {
			t.Errorf("in another order:\n%s", d)
		}
	}
}

// A drawing that was moved gives the same artwork, and one in other units
// gives it once its size is known.
func TestPlaceAndUnitChangeNothing(t *testing.T) {
	request := request(t, card)
	want := resolve(t, request, demo(t)...)
	property.Check(t, func(rt *rapid.T) {
		k := rapid.SampledFrom([]float64{1, 25.4, 0.3527777777777778, 10}).Draw(rt, "mm per unit")
		by := geometry.Translate(rapid.Float64Range(-500, 500).Draw(rt, "x"), rapid.Float64Range(-500, 500).Draw(rt, "y")).Then(geometry.Scale(1/k, 1/k))
		shapes := demo(t)
		for i := range shapes {
			for j := range shapes[i].Paths {
				shapes[i].Paths[j] = shapes[i].Paths[j].Transform(by)
			}
		}
		got, err := meaning.Resolve(t.Context(), &drawing.Drawing{Shapes: shapes}, &size.Result{Transform: geometry.Scale(k, k)}, request)
		if err != nil {
			rt.Fatal(err)
		}
		if a, b := fmt.Sprint(codes(want)), fmt.Sprint(codes(got)); a != b || len(got.Strokes) != len(want.Strokes) {
			rt.Fatalf("%d strokes and %s, want %d and %s", len(got.Strokes), b, len(want.Strokes), a)
		}
		for i, s := range got.Strokes {
			w := want.Strokes[i]
			if s.Operation != w.Operation || s.Shape != w.Shape || math.Abs(s.Path.Length()-w.Path.Length()) > 1e-6 || !near(s.Path.Bounds(), w.Path.Bounds()) {
				rt.Fatalf("stroke %d is %s %s, want %s %s", i, s.Operation, s.Path, w.Operation, w.Path)
			}
		}
	})
}

func near(a, b geometry.Box) bool { return a.Min.Dist(b.Min) < 1e-6 && a.Max.Dist(b.Max) < 1e-6 }

// The frame is taken out, whole or side by side, and is never cut.
func TestFrameIsNeverCut(t *testing.T) {
	d := &drawing.Drawing{Shapes: []drawing.Shape{
		cut(t, "M0 0H210V297H0Z"), cut(t, "M20 20H50V60H20Z"), cut(t, "M0 0H210V297H0ZM90 90H99"),
	}}
	s := trueSize()
	s.FrameParts = []size.Part{{Shape: 0, Path: 0}, {Shape: 2, Path: 0, Segments: []int{0, 1, 3}}}
	a, err := meaning.Resolve(t.Context(), d, s, request(t, card))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"through_cut M20 0L50 0L50 40L20 40L20 0Z", "through_cut M210 277L0 277", "through_cut M90 70L99 70"}
	if got := texts(a); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	s.FrameParts = []size.Part{{Shape: 7}}
	if _, err := meaning.Resolve(t.Context(), d, s, request(t, card)); err == nil {
		t.Error("a frame that the drawing lacks is no error")
	}
	s = trueSize()
	s.Transform.A = math.NaN()
	if _, err := meaning.Resolve(t.Context(), d, s, request(t, card)); err == nil {
		t.Error("a size that is no number is no error")
	}
}

// The artwork marshals to JSON and starts at the origin, whatever is drawn.
func FuzzResolve(f *testing.F) {
	for _, seed := range []string{"M0 0H9V9H0Z", "M0 0C0 9 9 9 9 0ZM1 1A3 4 30 0 1 7 7", "M0 0L0 0M1e9 5L-1e9 5", "M0 0H5M5.05 0V9M5 9H0"} {
		f.Add(seed, "CUT")
	}
	f.Fuzz(func(t *testing.T, data, layer string) {
		paths, _ := geometry.ParsePathData(data)
		if len(data) > 400 {
			return
		}
		d := &drawing.Drawing{Shapes: []drawing.Shape{{Paths: paths, Layer: layer, Stroke: teal}}}
		if b := d.Bounds(); len(paths) > 0 && !(math.Abs(b.Min.X)+math.Abs(b.Min.Y)+math.Abs(b.Max.X)+math.Abs(b.Max.Y) < 1e6) {
			return // past the limit of the readers
		}
		a, err := meaning.Resolve(t.Context(), d, trueSize(), request(t, card))
		if err != nil {
			return
		}
		box := geometry.EmptyBox()
		for _, s := range a.Strokes {
			if !s.Path.Finite() || s.Path.Empty() {
				t.Fatalf("stroke %+v", s.Path)
			}
			box = box.Union(s.Path.Bounds())
		}
		if !box.Empty() && (math.Abs(box.Min.X) > 1e-6 || math.Abs(box.Min.Y) > 1e-6) {
			t.Fatalf("the artwork begins at %v", box.Min)
		}
	})
}

func BenchmarkResolve(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			shapes := make([]drawing.Shape, 0, n)
			side := math.Ceil(math.Sqrt(float64(n)))
			for i := range n {
				x, y := 10*math.Mod(float64(i), side), 10*math.Floor(float64(i)/side)
				shapes = append(shapes, cut(b, fmt.Sprintf("M%g %gh8v3a4 4 0 0 1 -8 0z", x, y)))
			}
			req := request(b, card)
			for b.Loop() {
				resolve(b, req, shapes...)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/shape")
		})
	}
}

// Of lines of one colour that rules by width tell apart one question is asked,
// the same in every order.
func TestOrderOfWidthsChangesNoQuestion(t *testing.T) {
	req := request(t, card)
	red, nearly := drawing.RGB(255, 0, 0), drawing.RGB(245, 10, 10)
	req.Convention = workshop.Convention{Rules: []workshop.Rule{
		{Colour: red, WidthMM: 0.3, Means: workshop.MeansScore}, {Colour: red, WidthMM: 1, Means: workshop.MeansCut},
	}}
	thin, thick := shape(t, "M0 0H9", "", nearly), shape(t, "M0 5H9", "", nearly)
	thin.StrokeWidth, thick.StrokeWidth = 0.3, 1
	want := resolve(t, req, thin, thick).Questions
	if len(want) != 1 || want[0].Answers[0].ID != string(workshop.MeansScore) {
		t.Errorf("asks %+v", want)
	}
	if d := cmp.Diff(want, resolve(t, req, thick, thin).Questions); d != "" {
		t.Errorf("in another order:\n%s", d)
	}
}
