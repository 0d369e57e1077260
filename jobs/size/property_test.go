package size_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/size"
)

// A drawing that is moved, turned, mirrored or has its shapes in another order
// gives the same factor and the same frame.
func TestPlaceDoesNotMatter(t *testing.T) {
	const k = 96 / 25.4
	base := draw(t, k, k, a4Frame, box, "M40 120H60V150H40Z", "M100 200L120 240L90 230Z")
	property.Check(t, func(rt *rapid.T) {
		m := geometry.Rotate(rapid.Float64Range(-3, 3).Draw(rt, "turn")).
			Then(geometry.Scale(1, rapid.SampledFrom([]float64{1, -1}).Draw(rt, "mirror"))).
			Then(geometry.Translate(rapid.Float64Range(-1e5, 1e5).Draw(rt, "dx"), rapid.Float64Range(-1e5, 1e5).Draw(rt, "dy")))
		d := moved(base, m)
		order := rapid.Permutation([]int{0, 1, 2, 3}).Draw(rt, "order")
		shapes := make([]drawing.Shape, len(order))
		for to, from := range order {
			shapes[to] = d.Shapes[from]
		}
		d.Shapes = shapes
		res, err := size.Repair(t.Context(), d, size.Request{Stock: cardA4})
		if err != nil {
			rt.Fatal(err)
		}
		if len(res.Questions) > 0 || res.Cause != "pixels_read_as_mm" || math.Abs(res.X-1/k) > 1e-12 {
			rt.Fatalf("%s, factor %g: %s", res.Cause, res.X, res.Why)
		}
		if want := slices.Index(order, 0); len(res.FrameParts) != 1 || res.FrameParts[0].Shape != want {
			rt.Fatalf("frame parts %v, want shape %d", res.FrameParts, want)
		}
	})
}

// Repairing what was repaired changes nothing.
func TestRepairTwice(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		k := math.Exp(rapid.Float64Range(-2, 2).Draw(rt, "log factor"))
		req := size.Request{Frame: "A4", Stock: cardA4}
		first := repair(t, draw(t, k, k, a4Frame, box), req)
		if len(first.Questions) > 0 {
			rt.Skip("the factor has the name of another size")
		}
		again := repair(t, moved(draw(t, k, k, a4Frame, box), first.Transform), req)
		if len(again.Questions) > 0 || math.Abs(again.X-1) > 1e-9 || math.Abs(again.WidthMM-first.WidthMM) > 1e-9 {
			rt.Fatalf("factor %g, then %g: %s", first.X, again.X, again.Why)
		}
	})
}

// FuzzRepair holds on any path data: no panic, the same answer twice, a result
// that can be stored, a usable map, and a question that has answers.
func FuzzRepair(f *testing.F) {
	for _, seed := range []string{a4Frame + box, "M0 0H210M210 0V297H0V0" + box, "M0 0", "M0 0H1e300V1e-300Z", "M0 0C1 1 2 2 3 0Z", "M0 0A5 5 0 0 1 9 9M0 0H0V0Z"} {
		f.Add(seed, "A4", 1.0, true)
		f.Add(seed, "", 0.0, false)
	}
	f.Fuzz(func(t *testing.T, data, frame string, mm float64, stated bool) {
		paths, _ := geometry.ParsePathData(data)
		d := &drawing.Drawing{Unit: drawing.Unit{MM: mm, Declared: stated}}
		for _, p := range paths {
			d.Shapes = append(d.Shapes, drawing.Shape{Paths: []geometry.Path{p}})
		}
		req := size.Request{Frame: frame, Stock: cardA4}
		res, err := size.Repair(t.Context(), d, req)
		if err != nil {
			return
		}
		if !(res.X > 0 && res.Y > 0) || math.IsInf(res.X, 0) || math.IsInf(res.Y, 0) {
			t.Fatalf("factors %g, %g", res.X, res.Y)
		}
		for _, q := range res.Questions {
			if len(q.Answers) < 2 {
				t.Fatalf("question %s has %d answers", q.ID, len(q.Answers))
			}
		}
		one, err := json.Marshal(res)
		if err != nil {
			t.Fatal(err)
		}
		second, _ := size.Repair(t.Context(), d, req)
		if two, _ := json.Marshal(second); string(one) != string(two) {
			t.Fatal("two answers for one drawing")
		}
	})
}

func BenchmarkRepair(b *testing.B) {
	for _, n := range []int{10, 1000, 100000, 1000000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			d := draw(b, 72/25.4, 72/25.4, a4Frame)
			for i := range n {
				c := geometry.Pt(20+float64(i%1000)*1.5, 20+float64(i/1000)*2)
				d.Shapes = append(d.Shapes, drawing.Shape{Paths: []geometry.Path{geometry.BoxAround(c, c.Add(geometry.Pt(0.5, 0.7))).Path()}, Layer: "CUT"})
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := size.Repair(b.Context(), d, size.Request{Stock: cardA4}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
