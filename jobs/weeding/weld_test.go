package weeding_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// counter is a context that counts how often it is asked whether it has ended: once in
// 512 steps of a computation.
type counter struct {
	context.Context
	looks atomic.Int64
}

func (c *counter) Err() error {
	c.looks.Add(1)
	return c.Context.Err()
}

// looks counts 512 steps each of charting an artwork.
func looks(t *testing.T, a *artwork.Artwork, req weeding.Request) int64 {
	t.Helper()
	ctx := &counter{Context: t.Context()}
	if _, err := weeding.Chart(ctx, a, req); err != nil {
		t.Fatal(err)
	}
	return ctx.looks.Load()
}

// Bars that cross each other are joined into one outline and one round each hole
// between them. Each outline is told with the bars that run along it, the four round a
// hole, and not with all of them: of n bars there are n²/4 holes.
func TestJoinedOutlinesAreToldWithWhatRunsAlongThem(t *testing.T) {
	const each = 9
	var paths []geometry.Path
	for i := range each {
		at := 10 * float64(i)
		paths = append(paths,
			geometry.Box{Min: geometry.Pt(at, -5), Max: geometry.Pt(at+4, 90)}.Path(),
			geometry.Box{Min: geometry.Pt(-5, at), Max: geometry.Pt(90, at+4)}.Path())
	}
	a := outlined(paths...)
	for i := range a.Strokes {
		a.Strokes[i].Sources = []drawing.Source{{Kind: "path", ID: fmt.Sprint(i)}}
	}
	m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: card, Weld: true})
	if want := 1 + (each-1)*(each-1); len(m.Strokes) != want {
		t.Fatalf("%d outlines, want %d", len(m.Strokes), want)
	}
	for _, s := range m.Strokes {
		box := s.Path.Bounds()
		var want []drawing.Source
		for i, bar := range paths {
			if box.Grow(1e-6).Overlaps(bar.Bounds()) {
				want = append(want, a.Strokes[i].Sources[0])
			}
		}
		if !slices.Equal(s.Sources, want) {
			t.Errorf("the outline round %v is told with %v, want %v", box, s.Sources, want)
		}
	}
}

// Angles within each other, all of them from two sides, are no dots of each other, and
// are not held against each other to find that out.
func TestAnglesWithinEachOther(t *testing.T) {
	steps := func(n int) int64 {
		var paths []geometry.Path
		for i := range n {
			in, out := 400*float64(i+1)/float64(n), 400*(float64(i)+1.6)/float64(n)
			paths = append(paths, geometry.Polygon(geometry.Pt(in, 0), geometry.Pt(out, 0), geometry.Pt(out, out), geometry.Pt(0, out), geometry.Pt(0, in), geometry.Pt(in, in)))
		}
		return looks(t, outlined(paths...), weeding.Request{Purpose: weeding.Lettering, Stock: film})
	}
	few, many := steps(500), steps(2000)
	t.Logf("500 angles %d × 512 steps, 2,000 %d", few, many)
	if many > 6*few {
		t.Errorf("500 angles take %d × 512 steps, 2,000 %d", few, many)
	}
}

// Outlines that run over each other are joined in whichever way each was drawn. By hand:
// squares of 10 mm with 5 × 5 in common leave one outline round 175 mm², one of 20 mm with
// 10 × 8 in common 420, and with one inside the other nothing is joined.
func TestOutlinesAreJoinedWhicheverWayTheyAreDrawn(t *testing.T) {
	for way := range 4 {
		for _, c := range []struct {
			x, y, side float64
			outlines   int
			area       float64
		}{{5, 5, 10, 1, 175}, {2, 3, 5, 2, 75}, {-4, 2, 20, 1, 420}} {
			first, second := boxPath(0, 0, 10, 10), boxPath(c.x, c.y, c.x+c.side, c.y+c.side)
			if way&1 == 1 {
				first = first.Reversed()
			}
			if way&2 == 2 {
				second = second.Reversed()
			}
			m := chart(t, outlined(first, second), weeding.Request{Purpose: weeding.Pieces, Stock: card, Weld: true})
			kept := 0.0
			for _, r := range m.Regions {
				if r.Kept() {
					kept += r.AreaMM2
				}
			}
			if len(m.Strokes) != c.outlines || math.Abs(kept-c.area) > 1e-6 {
				t.Errorf("way %d, %+v: %d outlines round %g mm²", way, c, len(m.Strokes), kept)
			}
		}
	}
}
