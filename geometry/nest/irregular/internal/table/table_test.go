package table_test

import (
	"math"
	"math/rand"
	"testing"

	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/table"
)

// shapes are rings in tenths of a mm: a U, a frame with a hole, a star, two
// triangles that belong together, a slim strip.
var shapes = [][][]outline.Point{
	ring([][2]int64{{0, 0}, {140, 0}, {140, 50}, {120, 50}, {120, 20}, {20, 20}, {20, 50}, {0, 50}}),
	ring([][2]int64{{0, 0}, {90, 0}, {120, 80}, {30, 110}}, [][2]int64{{40, 30}, {40, 80}, {80, 60}, {70, 30}}),
	ring([][2]int64{{0, 40}, {40, 30}, {50, 0}, {60, 30}, {110, 40}, {60, 60}, {50, 120}, {40, 60}}),
	ring([][2]int64{{0, 0}, {30, 0}, {0, 30}}, [][2]int64{{80, 10}, {110, 0}, {120, 60}, {70, 70}}),
	ring([][2]int64{{0, 0}, {200, 3}, {200, 7}}),
}

func ring(all ...[][2]int64) [][]outline.Point {
	var out [][]outline.Point
	for _, r := range all {
		var one []outline.Point
		for _, p := range r {
			one = append(one, outline.Point{X: p[0] * 1000, Y: p[1] * 1000})
		}
		out = append(out, one)
	}
	return out
}

func outlines(give float64) []*outline.Outline {
	var all []*outline.Outline
	for _, r := range shapes {
		all = append(all, outline.New(r, outline.Poles(r), r[0][0], r[0][0], give))
	}
	return all
}

// TestDepth compares with sides and circles at ways by chance: where outlines
// overlap by no more than the few steps that are given away, or lie as near to
// each other, either answer will do.
func TestDepth(t *testing.T) {
	const give = 5.0
	random := rand.New(rand.NewSource(1))
	exact, deeper := outlines(0), outlines(2*give)
	for i, o := range exact {
		for k, p := range exact {
			one := table.New(nil, o, p, 2*give)
			overlapping, deepest, wrong := 0, 0.0, 0.0
			for range 1000 {
				dx, dy := float64(random.Intn(int(o.W+p.W)))-p.W, float64(random.Intn(int(o.H+p.H)))-p.H
				got := one.Depth(dx+(p.W-o.W)/2, dy+(p.H-o.H)/2)
				surely, maybe := deeper[i].Meets(deeper[k], dx, dy), o.Meets(p, dx, dy)
				if surely && got == 0 || !maybe && got > 0 {
					t.Errorf("%d and %d at %v, %v: depth %v; they overlap: %v", i, k, dx, dy, got, maybe)
				}
				if got == 0 {
					continue
				}
				overlapping++
				want := o.Depth(p, dx, dy, math.Inf(1))
				deepest, wrong = max(deepest, want), max(wrong, math.Abs(got-want))
			}
			if wrong > 0.12*deepest {
				t.Errorf("%d and %d: a depth is wrong by %v, of %v at most", i, k, wrong, deepest)
			}
			if overlapping < 60 {
				t.Errorf("%d and %d overlap %d times of 1000", i, k, overlapping)
			}
		}
	}
}

// turned returns rings turned by quarters.
func turned(rings [][]outline.Point, quarters int) [][]outline.Point {
	var out [][]outline.Point
	for _, r := range rings {
		var one []outline.Point
		for _, p := range r {
			for range quarters {
				p = outline.Point{X: -p.Y, Y: p.X}
			}
			one = append(one, p)
		}
		out = append(out, one)
	}
	return out
}

// TestViewOfTurned looks up outlines in all quarters, for which there are fewer tables
// than pairs, and compares with their sides and with the same seen from the other.
func TestViewOfTurned(t *testing.T) {
	const give = 5.0
	var all []table.Shape
	var deeper []*outline.Outline
	for i, r := range shapes {
		for _, quarter := range [][]int{{0, 1, 2, 3}, {1, 3}, {0, 2}, {2}, {3, 0}}[i] {
			now := turned(r, quarter)
			at, _ := outline.Box(now)
			all = append(all, table.Shape{Outline: outline.New(now, outline.Poles(now), at, at, 0), Piece: 7 - i, Quarter: quarter})
			deeper = append(deeper, outline.New(now, outline.Poles(now), at, at, 2*give))
		}
	}
	store := table.NewStore(all, 2*give)
	view := store.View()
	random := rand.New(rand.NewSource(2))
	made, tables := 0, map[*table.Table]bool{}
	for i, o := range all {
		for k, p := range all {
			if view.Spend(nil, int32(i), int32(k), 1) != 0 {
				t.Fatalf("a table of %d and %d for next to no work", i, k)
			}
			if view.Spend(nil, int32(i), int32(k), 1<<25) > 0 {
				made++
			}
			one, other := view.Row(int32(i))[k], view.Row(int32(k))[i]
			tables[one.Table] = true
			for range 200 {
				dx, dy := (random.Float64()-0.5)*(o.W+p.W), (random.Float64()-0.5)*(o.H+p.H)
				x, y := dx-(p.W-o.W)/2, dy-(p.H-o.H)/2
				got, back := one.Depth(dx, dy), other.Depth(-dx, -dy)
				surely, maybe := deeper[i].Meets(deeper[k], x, y), o.Meets(p.Outline, x, y)
				if surely && got == 0 || !maybe && got > 0 || math.Abs(got-back) > 1e-3*got {
					t.Errorf("%d and %d at %v, %v: depth %v, from the other %v; they overlap: %v", i, k, dx, dy, got, back, maybe)
				}
			}
		}
	}
	if made != len(tables) || made > len(all)*(len(all)+1)/3 {
		t.Errorf("%d tables were paid for, %d are used, for %d outlines", made, len(tables), len(all))
	}
}
