package figure_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
)

// open runs f with a panel of 100 × 100 mm and some lines of the work (pixels) in it.
func open(t *testing.T, lines func(p *figure.Page) []geometry.Path, f func(p *figure.Page)) {
	t.Helper()
	err := budget.Run(t.Context(), func(b *budget.Budget) {
		p := figure.New(b, figure.Screen(0), "", "")
		p.Open(geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 100)), figure.Inset{Tight: true, Marked: true})
		p.Spots.Line(lines(p))
		f(p)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A mark beside its foot stands off every line of a grid, as near as the nearest square
// of the grid that holds it, and off the marks before it.
func TestMarksStandOffLines(t *testing.T) {
	const r, side = 8.0, 40.0 // pixels
	grid := func(p *figure.Page) (all []geometry.Path) {
		a := p.Area
		for d := 0.0; d < a.Width(); d += side {
			all = append(all, geometry.Polyline(a.Min.Add(geometry.Pt(d, 0)), geometry.Pt(a.Min.X+d, a.Max.Y)), geometry.Polyline(a.Min.Add(geometry.Pt(0, d)), geometry.Pt(a.Max.X, a.Min.Y+d)))
		}
		return all
	}
	open(t, grid, func(p *figure.Page) {
		foot := p.Area.Min.Add(geometry.Pt(5*side, 5*side)) // where two lines cross
		var stood []geometry.Point
		for range 4 {
			at, ok := p.Spots.Beside(foot, r, 100, nil)
			if !ok {
				t.Fatal("no room")
			}
			off := at.Sub(p.Area.Min)
			for _, v := range []float64{off.X, off.Y} {
				if d := math.Abs(v - side*math.Round(v/side)); d < r {
					t.Errorf("a mark at %v is %v off a line", off, d)
				}
			}
			if at.Dist(foot) > side {
				t.Errorf("a mark stands %v off its foot", at.Dist(foot))
			}
			for _, other := range stood {
				if at.Dist(other) < 2*r {
					t.Errorf("two marks are %v apart", at.Dist(other))
				}
			}
			stood = append(stood, at)
			p.Spots.Take(at, r)
		}
	})
}

// Where lines leave no room within reach there is none, and farther out there is.
func TestMarksWithoutRoom(t *testing.T) {
	dense := func(p *figure.Page) (all []geometry.Path) {
		for y := p.Area.Min.Y; y < p.Area.Max.Y; y += 6 {
			all = append(all, geometry.Polyline(geometry.Pt(p.Area.Min.X, y), geometry.Pt(p.Area.Max.X, y)))
		}
		return all
	}
	open(t, dense, func(p *figure.Page) {
		c := p.Area.Centre()
		if at, ok := p.Spots.Beside(c, 8, 100, nil); ok {
			t.Errorf("there is room at %v", at.Sub(c))
		}
		if at, ok := p.Spots.Beside(c, 8, 2000, nil); !ok || p.Area.Contains(at) {
			t.Errorf("beside the work there is room %t at %v", ok, at.Sub(c))
		}
	})
}

// Lines of the work off the panel are not shown and keep no mark off.
func TestHiddenLinesKeepNothingOff(t *testing.T) {
	below := func(p *figure.Page) []geometry.Path {
		return []geometry.Path{geometry.Polyline(geometry.Pt(p.Area.Min.X, p.Area.Max.Y+15), geometry.Pt(p.Area.Max.X, p.Area.Max.Y+15))}
	}
	open(t, below, func(p *figure.Page) {
		if q := geometry.Pt(p.Area.Centre().X, p.Area.Max.Y+15); p.Spots.OnLine(q, 8) {
			t.Error("a line below the panel is in the way")
		}
	})
}

// The time of many marks is bounded by the blocks of cells that have no room, 840 here, of
// which each is tried once.
func BenchmarkManyMarksWithoutRoom(b *testing.B) {
	err := budget.Run(b.Context(), func(steps *budget.Budget) {
		p := figure.New(steps, figure.Screen(0), "", "")
		p.Open(geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 100)), figure.Inset{Tight: true})
		var lines []geometry.Path
		for y := p.Area.Min.Y; y < p.Area.Max.Y; y += 6 {
			lines = append(lines, geometry.Polyline(geometry.Pt(p.Area.Min.X, y), geometry.Pt(p.Area.Max.X, y)))
		}
		for b.Loop() {
			p.Spots.Line(lines)
			for i := range 6000 {
				p.Spots.Beside(p.Area.Min.Add(geometry.Pt(float64(i%80)*9, float64(i/80)*9)), 9, 72, nil)
			}
		}
	})
	if err != nil {
		b.Fatal(err)
	}
}
