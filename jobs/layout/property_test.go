package layout_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// Whatever is asked for: every copy is there once, inside the usable area, a
// gap away from all others, where its transform puts it; no number of sheets
// beats the area bound, and turning all alike never needs fewer.
func TestLayoutsAreSound(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		p := piece(rapid.Float64Range(8, 180).Draw(t, "w"), rapid.Float64Range(8, 180).Draw(t, "h"))
		req := on2(rapid.SampledFrom([]string{"card-160-a4", "card-220-a3", "film-removable-610", "film-heat-500"}).Draw(t, "stock"),
			rapid.IntRange(1, 60).Draw(t, "copies"))
		req.Stock.GapMM = rapid.Float64Range(0, 12).Draw(t, "gap")
		l, err := layout.Place(t.Context(), p, req)
		if err != nil {
			t.Fatal(err)
		}
		checkLayout(t, l, p, req)
		req.OneTurn = true
		one, err := layout.Place(t.Context(), p, req)
		if err != nil {
			t.Fatal(err)
		}
		if one.Usage.Sheets < l.Usage.Sheets || one.Usage.RollMM < l.Usage.RollMM-1e-9 {
			t.Fatalf("mixed turns take more: %+v against %+v", l.Usage, one.Usage)
		}
		again, _ := layout.Place(t.Context(), p, req)
		a, _ := json.Marshal(one)
		b, _ := json.Marshal(again)
		if string(a) != string(b) {
			t.Fatal("the same request gave two layouts")
		}
	})
}

func on2(stock string, copies int) layout.Request {
	d := workshop.Example()
	s, _ := d.Stock(stock)
	m, _ := d.Machine("wide-610")
	return layout.Request{Stock: s, Machine: m, Copies: copies}
}

func checkLayout(t *rapid.T, l *layout.Layout, p layout.Piece, req layout.Request) {
	const tol = 0.002 // sizes are taken to the nearest µm
	s := req.Stock
	side := (s.WidthMM - s.UsableWidthMM) / 2
	seen := 0
	for _, load := range l.Loads {
		usable := geometry.Box{Min: geometry.Pt(side, s.MarginMM+s.LeadMM), Max: geometry.Pt(side+s.UsableWidthMM, load.LengthMM-s.MarginMM-s.TailMM)}
		for i, at := range load.Placements {
			seen++
			if at.Copy != seen {
				t.Fatalf("copy %d at place %d", at.Copy, seen)
			}
			if !usable.Grow(tol).ContainsBox(at.Bounds) {
				t.Fatalf("copy %d at %v leaves %v", at.Copy, at.Bounds, usable)
			}
			moved := p.Bounds.Path().Transform(at.Transform).Bounds()
			if moved.Min.Dist(at.Bounds.Min) > 1e-9 || moved.Max.Dist(at.Bounds.Max) > 1e-9 {
				t.Fatalf("copy %d: transform gives %v, bounds %v", at.Copy, moved, at.Bounds)
			}
			for _, other := range load.Placements[:i] {
				dx := math.Max(at.Bounds.Min.X-other.Bounds.Max.X, other.Bounds.Min.X-at.Bounds.Max.X)
				dy := math.Max(at.Bounds.Min.Y-other.Bounds.Max.Y, other.Bounds.Min.Y-at.Bounds.Max.Y)
				if math.Max(dx, dy) < s.GapMM-tol {
					t.Fatalf("copies %d and %d are %g apart, want %g", at.Copy, other.Copy, math.Max(dx, dy), s.GapMM)
				}
			}
		}
	}
	if seen != req.Copies {
		t.Fatalf("%d copies placed, want %d", seen, req.Copies)
	}
	if float64(l.Usage.Sheets)+l.Usage.RollMM < l.Usage.AreaBound-tol {
		t.Fatalf("usage %+v is below its area bound", l.Usage)
	}
}

// Instances of the pallet problem on which the pinwheel search is known to
// reach the optimum; values from the literature on pallets, from memory. Sides
// are scaled to mm; the gap is zero.
func TestPalletInstances(t *testing.T) {
	for _, c := range []struct {
		x, y, a, b float64
		want       int
	}{
		{22, 16, 5, 3, 23}, {86, 82, 15, 11, 42}, {57, 44, 12, 5, 41}, {42, 39, 9, 4, 45},
		{124, 81, 21, 10, 47}, {40, 25, 7, 3, 47}, {52, 33, 9, 4, 47}, {56, 52, 12, 5, 48},
	} {
		req := layout.Request{
			Stock:  workshop.Stock{Form: workshop.Sheet, Hold: workshop.Rollers, WidthMM: c.x, UsableWidthMM: c.x, LengthMM: c.y},
			Copies: c.want,
		}
		l := place(t, piece(c.a, c.b), req)
		if l.Usage.Sheets != 1 {
			t.Errorf("%v: %d on the first of %d sheets", c, len(l.Loads[0].Placements), l.Usage.Sheets)
		}
	}
}

func BenchmarkPlace(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10000} {
		b.Run(fmt.Sprintf("copies=%d", n), func(b *testing.B) {
			req := on(b, "film-removable-610", "wide-610", n)
			req.Stock.LengthMM = 0
			for b.Loop() {
				place(b, piece(48, 31), req)
			}
		})
	}
}

// Any numbers at all: an error, a finding, or all copies placed.
func FuzzPlace(f *testing.F) {
	f.Add(90.0, 55.0, 4.0, 10.0, uint16(33), false)
	f.Add(0.0, 0.0, 0.0, 0.0, uint16(3), true)
	f.Add(1e-9, 277.0, 0.0, 10.0, uint16(100), false)
	f.Add(1e300, -1.0, math.NaN(), 5.0, uint16(1), false)
	f.Fuzz(func(t *testing.T, w, h, gap, margin float64, copies uint16, oneTurn bool) {
		req := on2("card-160-a4", int(copies%500))
		req.Stock.GapMM, req.Stock.MarginMM, req.OneTurn = gap, margin, oneTurn
		l, err := layout.Place(t.Context(), piece(w, h), req)
		if err != nil || len(l.Findings) > 0 {
			return
		}
		placed := 0
		for _, load := range l.Loads {
			placed += len(load.Placements)
		}
		if placed != req.Copies {
			t.Errorf("%d of %d copies placed", placed, req.Copies)
		}
	})
}
