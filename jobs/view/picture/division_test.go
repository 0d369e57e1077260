package picture

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/weeding"
)

func boxed(x0, y0, x1, y1 float64) geometry.Box {
	return geometry.BoxAround(geometry.Pt(x0, y0), geometry.Pt(x1, y1))
}

// divided runs f with a division of a map of 120 × 80 mm.
func divided(t *testing.T, f func(d *division)) {
	t.Helper()
	err := budget.Run(t.Context(), func(b *budget.Budget) {
		f(&division{b: b, extent: boxed(0, 0, 120, 80), scaleOf: newPage(b, "", "").ScaleOf, byNumber: map[int]*weeding.Region{}})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// hold adds a step for a region whose pick point is the middle of its box.
func (d *division) hold(b geometry.Box, radius float64) {
	n := len(d.steps) + 1
	d.byNumber[n] = &weeding.Region{Number: n, Outer: b.Path(), Pick: b.Centre(), PickRadiusMM: radius}
	d.steps = append(d.steps, weeding.Step{Order: n, Region: n, Pick: b.Centre()})
}

// A cut between two parts of 60 mm lies within 10 mm of the middle, in steps of
// half a mm, where it parts the fewest regions that go; of equal ones it is the
// nearest. The expected places are worked out by hand.
func TestCutsSpareWhatIsPeeled(t *testing.T) {
	across := func(b geometry.Box) (lo, hi float64) { return b.Min.X, b.Max.X }
	for _, c := range []struct {
		name   string
		peeled []geometry.Box
		want   float64
	}{
		{"nothing in the way", nil, 60},
		{"one that is nearer to its right end", []geometry.Box{boxed(55, 0, 61, 9)}, 61},
		{"one that is nearer to its left end", []geometry.Box{boxed(58.5, 0, 66, 9)}, 58.5},
		{"both ends as near", []geometry.Box{boxed(57, 0, 63, 9)}, 57},
		{"a long one is parted anyway", []geometry.Box{boxed(20, 0, 100, 9), boxed(56, 0, 68, 9)}, 56},
		{"its end is just in reach", []geometry.Box{boxed(20, 0, 70, 9)}, 70},
		{"its end is out of reach", []geometry.Box{boxed(20, 0, 70.5, 9)}, 60},
		{"two are better than three", []geometry.Box{boxed(40, 0, 80, 1), boxed(40, 0, 80, 2), boxed(59, 0, 80, 3)}, 59},
	} {
		divided(t, func(d *division) {
			d.peeled = c.peeled
			if got, want := d.cuts(2, across), []float64{0, c.want, 120}; !slices.EqualFunc(got, want, closeTo) {
				t.Errorf("%s: cut at %v, want %v", c.name, got, want)
			}
		})
	}
	divided(t, func(d *division) {
		if got, want := d.cuts(4, across), []float64{0, 30, 60, 90, 120}; !slices.EqualFunc(got, want, closeTo) {
			t.Errorf("four parts are cut at %v, want %v", got, want)
		}
		d.extent = boxed(20, 10, 140, 90)
		if got, want := d.cuts(3, across), []float64{20, 60, 100, 140}; !slices.EqualFunc(got, want, closeTo) {
			t.Errorf("three parts that begin elsewhere are cut at %v, want %v", got, want)
		}
	})
}

func closeTo(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// The parts are those that hold steps, lettered row by row from the top; each is
// narrowed to its steps with 5 % of its longer side round them, to half of each
// side at most, and stays within its part.
func TestGridKeepsThePartsWithSteps(t *testing.T) {
	divided(t, func(d *division) {
		d.hold(boxed(8, 68, 12, 77), 2)    // above on the left
		d.hold(boxed(70, 45, 115, 75), 15) // above on the right
		d.hold(boxed(100, 1, 104, 3), 1)   // below on the right
		d.hold(boxed(62, 30, 66, 39), 2)   // there, too
		want := []tile{
			{box: boxed(0, 60, 30, 80), name: "A", steps: d.steps[:1]},
			{box: boxed(67, 42, 118, 78), name: "B", steps: d.steps[1:2]},
			{box: boxed(60, 0, 107, 40), name: "C", steps: d.steps[2:]},
		}
		got := d.grid(2, 2)
		if len(got) != len(want) {
			t.Fatalf("%d parts, want %d", len(got), len(want))
		}
		for i, w := range want {
			g := got[i]
			if !closeTo(g.box.Min.Dist(w.box.Min)+g.box.Max.Dist(w.box.Max), 0) || g.name != w.name || len(g.steps) != len(w.steps) || g.steps[0].Order != w.steps[0].Order {
				t.Errorf("part %d is %v, want %v", i, g, w)
			}
		}
	})
}

// As many parts are made as are worth it: each has to give 6 % of the numbers
// room, all together 20 %. Radii are such that a number just fits at a scale.
func TestPartsAreWorthIt(t *testing.T) {
	for _, c := range []struct {
		name       string
		none, side int // of 100 steps: how many fit in the whole, and in no fewer than two parts
		quarter    int // and in no fewer than four
		want       int
	}{
		{"all fit in the whole", 100, 0, 0, 0},
		{"two parts give a fifth room", 80, 20, 0, 2},
		{"two parts give less", 81, 19, 0, 0},
		{"two more parts give 13 % more", 57, 30, 13, 4},
		{"two more parts give 11 % more", 59, 30, 11, 2},
	} {
		divided(t, func(d *division) {
			d.scale = d.scaleOf(d.extent.Width(), d.extent.Height())
			const fits = 12.001 // pixels
			for i := range 100 {
				x, y := float64(i%10), float64(i/10)
				radius := fits / d.scale
				if i >= c.none {
					radius = fits / math.Max(d.tileScale(2, 1), d.tileScale(1, 2))
				}
				if i >= c.none+c.side {
					radius = fits / d.tileScale(2, 2)
				}
				d.hold(boxed(12*x+1, 8*y+1, 12*x+3, 8*y+3), radius)
			}
			if got := len(d.cut()); got != c.want {
				t.Errorf("%s: %d parts, want %d", c.name, got, c.want)
			}
		})
	}
}
