package planar_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/planar"
	"knifedesk/geometry/planar/internal/sets"
)

// arranging returns a computation for stop.Check that makes the map of lines.
func arranging(lines []planar.Line) func(context.Context) error {
	return func(ctx context.Context) (err error) {
		stopped := budget.Run(ctx, func(b *budget.Budget) { _, err = planar.Arrange(b, lines) })
		if stopped != nil {
			return stopped
		}
		return err
	}
}

// TestArrangeStops stops the generated sets of 100,000 segments, drawings of 40,000 that
// spoil the balance of the strips, and lines that nearly all cross each other.
func TestArrangeStops(t *testing.T) {
	for _, kind := range sets.Kinds {
		t.Run(kind, func(t *testing.T) { stop.Check(t, arranging(setLines(sets.Generate(kind, 100_000, 7)))) })
	}
	for _, set := range hardSets {
		t.Run(set.name, func(t *testing.T) { stop.Check(t, arranging(set.make(40_000))) })
	}
	t.Run("crowd", func(t *testing.T) { stop.Check(t, arranging(chords(900, 200))) })
	t.Run("crowd on few pixels", func(t *testing.T) { stop.Check(t, arranging(chords(20_000, 0.01))) })
}

// chords returns n chords of a circle, of which any two are likely to cross.
func chords(n int, radius float64) []planar.Line {
	lines := make([]planar.Line, n)
	at := func(turn float64) geometry.Point {
		sin, cos := math.Sincos(2 * math.Pi * turn)
		return geometry.Pt(radius*cos, radius*sin)
	}
	for i := range lines {
		turn := float64(i) / float64(n)
		lines[i] = planar.Line{A: at(turn), B: at(turn + 0.3 + turn/5)}
	}
	return lines
}

// TestFaceAtStops stops the search for a point while the index is made and
// after, and asks the same map again.
func TestFaceAtStops(t *testing.T) {
	lines := setLines(sets.Generate("grid", 100_000, 7))
	m, err := planar.Arrange(nil, lines)
	if err != nil {
		t.Fatal(err)
	}
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) {
			for i := range lines {
				m.FaceAt(b, lines[i].A.Lerp(lines[i].B, 0.5))
			}
		})
	})
	ended, cancel := context.WithCancel(t.Context())
	n, err := planar.Arrange(nil, lines)
	if err != nil {
		t.Fatal(err)
	}
	p := lines[0].A.Add(geometry.Pt(0.01, 0.01))
	if err := budget.Run(ended, func(b *budget.Budget) { cancel(); n.FaceAt(b, p) }); err == nil {
		t.Error("the index of 100,000 segments was made after the end")
	}
	if got, want := n.FaceAt(nil, p), m.FaceAt(nil, p); got != want {
		t.Errorf("face %d after a stop, want %d", got, want)
	}
}

// TestOverlaysStop stops overlays and offsets of regions of many rings: a
// lattice of circles that overlap, and circles that all overlap.
func TestOverlaysStop(t *testing.T) {
	var lattice, heap planar.Region
	for i := range 2500 {
		lattice.Rings = append(lattice.Rings, circle(geometry.Pt(float64(i%50), float64(i/50)), 0.6))
	}
	for i := range 150 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 150)
		heap.Rings = append(heap.Rings, circle(geometry.Pt(5*cos, 5*sin), 20))
	}
	each := make([]planar.Region, len(lattice.Rings))
	for i, ring := range lattice.Rings {
		each[i].Rings = [][]geometry.Point{ring}
	}
	for name, overlay := range map[string]func(*budget.Budget) (planar.Polygons, error){
		"union of a lattice":  func(b *budget.Budget) (planar.Polygons, error) { return planar.Union(b, each...) },
		"union of a heap":     func(b *budget.Budget) (planar.Polygons, error) { return planar.Union(b, heap) },
		"lattice less a heap": func(b *budget.Budget) (planar.Polygons, error) { return planar.Difference(b, lattice, heap) },
		"heap grown":          func(b *budget.Budget) (planar.Polygons, error) { return planar.Offset{By: 3}.Of(b, heap) },
		"lattice shrunk":      func(b *budget.Budget) (planar.Polygons, error) { return planar.Offset{By: -0.1}.Of(b, lattice) },
		"lattice, fine chords": func(b *budget.Budget) (planar.Polygons, error) {
			return planar.Offset{By: 2, ChordMM: 1e-3}.Of(b, lattice)
		},
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) (err error) {
				if stopped := budget.Run(ctx, func(b *budget.Budget) { _, err = overlay(b) }); stopped != nil {
					return stopped
				}
				return err
			})
		})
	}
}

func circle(centre geometry.Point, radius float64) []geometry.Point {
	pts := geometry.Circle(centre, radius).Flatten(geometry.DefaultChord)
	return pts[:len(pts)-1]
}

func ExampleArrange_stopped() {
	ctx, cancel := context.WithCancelCause(context.Background())
	err := budget.Run(ctx, func(b *budget.Budget) {
		cancel(fmt.Errorf("nobody waits"))
		_, _ = planar.Arrange(b, chords(900, 200))
	})
	fmt.Println(err)
	// Output: nobody waits
}
