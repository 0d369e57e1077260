package near_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/near"

	"pgregory.net/rapid"
)

// whole draws points with whole coordinates, many of which lie on each other.
func whole(most int) *rapid.Generator[geometry.Point] {
	return rapid.Custom(func(t *rapid.T) geometry.Point {
		at := func(name string) float64 { return float64(rapid.IntRange(-most, most).Draw(t, name)) }
		return geometry.Pt(at("x"), at("y"))
	})
}

// The tree finds what a look at every box finds.
func TestTreeFindsWhatIsThere(t *testing.T) {
	box := rapid.Custom(func(t *rapid.T) geometry.Box {
		return geometry.BoxAround(whole(20).Draw(t, "corner"), whole(20).Draw(t, "other"))
	})
	property.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(box, 0, 300).Draw(t, "boxes")
		tree, query := near.NewTree(nil, boxes), box.Draw(t, "query")
		var got, want []int
		tree.Each(nil, query, func(i int) bool {
			got = append(got, i)
			return true
		})
		for i, b := range boxes {
			if b.Overlaps(query) {
				want = append(want, i)
			}
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Fatalf("found %v, want %v", got, want)
		}
	})
}

// heap returns n boxes that all hold the point (1, 1).
func heap(n int) []geometry.Box {
	r := rand.New(rand.NewPCG(1, 2))
	boxes := make([]geometry.Box, n)
	for i := range boxes {
		boxes[i] = geometry.Box{Min: geometry.Pt(r.Float64(), r.Float64()), Max: geometry.Pt(1+r.Float64(), 1+r.Float64())}
	}
	return boxes
}

func TestTreeEndsEarly(t *testing.T) {
	tree, query := near.NewTree(nil, heap(1000)), geometry.BoxAround(geometry.Pt(1, 1))
	for name, b := range map[string]*budget.Budget{"no bound": nil, "100 steps": (*budget.Budget)(nil).Allow(100)} {
		seen := 0
		tree.Each(b, query, func(int) bool {
			seen++
			return seen < 200
		})
		if b == nil && seen != 200 || b != nil && (seen < 50 || seen > 100 || !b.Over()) {
			t.Errorf("%s: %d items seen", name, seen)
		}
	}
}

func TestTreeStops(t *testing.T) {
	boxes := heap(300_000)
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) {
			tree := near.NewTree(b, boxes)
			for _, box := range boxes[:50] {
				tree.Each(b, box, func(int) bool { return true })
			}
		})
	})
}

func BenchmarkTree(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 4))
	boxes := make([]geometry.Box, 100_000)
	for i := range boxes {
		boxes[i] = geometry.BoxAround(geometry.Pt(1000*r.Float64(), 1000*r.Float64())).Grow(1)
	}
	for b.Loop() {
		tree := near.NewTree(nil, boxes)
		for _, box := range boxes {
			tree.Each(nil, box, func(int) bool { return true })
		}
	}
}

// A part of a tree finds what of the part a look at every box finds, also after
// items have left it.
func TestPartFindsWhatIsInIt(t *testing.T) {
	box := rapid.Custom(func(t *rapid.T) geometry.Box {
		return geometry.BoxAround(whole(20).Draw(t, "corner"), whole(20).Draw(t, "other"))
	})
	property.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(box, 1, 300).Draw(t, "boxes")
		part := near.NewPart(nil, near.NewTree(nil, boxes))
		in := make([]bool, len(boxes))
		for range rapid.IntRange(0, 400).Draw(t, "changes") {
			i := rapid.IntRange(0, len(boxes)-1).Draw(t, "item")
			in[i] = rapid.Bool().Draw(t, "in")
			part.Set(i, in[i])
		}
		query := box.Draw(t, "query")
		var got, want []int
		part.Each(nil, query, func(i int) bool {
			got = append(got, i)
			return true
		})
		for i, b := range boxes {
			if in[i] && b.Overlaps(query) {
				want = append(want, i)
			}
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Fatalf("found %v, want %v", got, want)
		}
	})
}
