package weeding_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// handOf is the film with another length of what a hand can hold.
func handOf(mm float64) workshop.Stock {
	s := film
	s.Limits.HandMM = mm
	return s
}

func reliefLength(m *weeding.Map) (n int, length float64) {
	for _, s := range m.Strokes {
		if s.Added == artwork.Relief {
			n, length = n+1, length+s.Path.Length()
		}
	}
	return n, length
}

// Lines somebody drew across a ground open it as relief lines do: only what
// they leave closed gets more. The ground lies between a plate of 100 mm with
// an opening of 80 and two squares of 20, 5 mm from its sides and 30 apart.
func TestDrawnReliefLinesCount(t *testing.T) {
	const left, right = "M15 40H35V60H15Z", "M65 40H85V60H65Z"
	for _, c := range []struct {
		name   string
		more   []string
		lines  int
		length float64
		parts  int // of removed film
	}{
		{"none drawn", nil, 2, 10, 1},
		{"one drawn", []string{"M15 50H10"}, 1, 5, 1},
		{"one drawn, bent and slanting", []string{"M15 50L12 30L10 22"}, 1, 5, 1},
		{"both drawn", []string{"M15 50H10", "M85 50H90"}, 0, 0, 1},
		{"one drawn between the squares", []string{"M35 50H65"}, 1, 5, 1},
		{"a star that joins all", []string{"M35 50H65", "M50 50V10"}, 0, 0, 1},
		{"split in two by the drawing", []string{"M15 50H10", "M35 50H65", "M85 50H90"}, 0, 0, 2},
		{"passed over once more", []string{"M15 50H10", "M10 50H15"}, 1, 5, 1},
		// A line over the gap on the left that only joins the squares: the
		// shortest way out begins on it.
		{"ends on a drawn line", []string{"M25 60V88H75V60"}, 1, 2, 1},
	} {
		a := drawn(t, append([]string{outer, inner, left, right}, c.more...)...)
		m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: film, Relief: true})
		n, length := reliefLength(m)
		if n != c.lines || math.Abs(length-c.length) > 1e-6 {
			t.Errorf("%s: %d relief lines of %.3f mm, want %d of %.3f", c.name, n, length, c.lines, c.length)
		}
		removed, area := 0, 0.0
		for _, r := range m.Regions {
			if r.Kept() {
				continue
			}
			removed++
			area += r.AreaMM2
			if len(r.Holes) > 0 {
				t.Errorf("%s: region %d still has %d holes", c.name, r.Number, len(r.Holes))
			}
			if !inRegion(r.Pick, &r) {
				t.Errorf("%s: pick %v outside", c.name, r.Pick)
			}
		}
		if removed != c.parts || math.Abs(area-(6400-800)) > 1e-6 {
			t.Errorf("%s: %d parts of %.3f mm², want %d of 5600", c.name, removed, area, c.parts)
		}
		if has(m, finding.BoundaryOpen) || has(m, finding.Nick) {
			t.Errorf("%s: %s", c.name, m.Findings[0].Hint)
		}
	}
}

// In the surround a drawn line between two letters counts too.
func TestDrawnLineInTheSurround(t *testing.T) {
	two := []string{"M0 0H20V30H0Z", "M30 0H50V30H30Z"}
	for more, want := range map[string]float64{"": 10, "M20 15H30": 5} {
		data := two
		if more != "" {
			data = append(data[:2:2], more)
		}
		m := chart(t, drawn(t, data...), weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true})
		if _, length := reliefLength(m); math.Abs(length-want) > 1e-6 {
			t.Errorf("drawn %q: %.3f mm of relief lines, want %g", more, length, want)
		}
	}
}

// On seeded sheets with a line drawn between corners of two islands the relief
// lines are no longer than the minimum spanning tree in which that line is
// there already; no hole is left, and the parts cover what they did.
func TestDrawnLinesOnSeededSheets(t *testing.T) {
	drawnOn, shorter := 0, 0
	for seed := range uint64(500) {
		outlines := islands(seed, 0.2)
		line, ok := freeLine(outlines)
		if !ok {
			continue
		}
		drawnOn++
		req := weeding.Request{Purpose: weeding.Lettering, Stock: handOf(1000), Border: true, Relief: true}
		plain := chart(t, artworkOf(outlines), req)
		a := artworkOf(outlines)
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: geometry.Polyline(line...), Operation: artwork.KissCut, Shape: len(outlines)})
		m := chart(t, a, req)
		corners := m.Bounds.Corners()
		all := append([][]geometry.Point{corners[:], line}, outlines...)
		_, before := reliefLength(plain)
		_, length := reliefLength(m)
		if tree := shortestTree(all); length > tree+1e-6 {
			t.Errorf("seed %d: %.6f mm of relief lines, the tree has %.6f", seed, length, tree)
		}
		if length < before-1e-6 {
			shorter++
		}
		if err := checkRelief(m, append(outlines, line), film.Limits.ClearanceMM); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if off := removedArea(m) - removedArea(plain); math.Abs(off) > 1e-6 {
			t.Errorf("seed %d: the parts cover %g mm² more than without the line", seed, off)
		}
	}
	t.Logf("%d sheets, on %d of them less is added", drawnOn, shorter)
	if shorter < 300 {
		t.Errorf("only %d sheets need less", shorter)
	}
}

// freeLine returns a line between corners of the first two outlines that meets
// nothing else.
func freeLine(outlines [][]geometry.Point) ([]geometry.Point, bool) {
	if len(outlines) < 2 {
		return nil, false
	}
	for _, p := range outlines[0] {
		for _, q := range outlines[1] {
			free := true
			for _, o := range outlines {
				for i, a := range o {
					if b := o[(i+1)%len(o)]; a != p && a != q && b != p && b != q {
						free = free && edgeGap(p, q, a, b) > 1e-3
					}
				}
				free = free && !within(p.Lerp(q, 1e-3), o) && !within(q.Lerp(p, 1e-3), o)
			}
			if free {
				return []geometry.Point{p, q}, true
			}
		}
	}
	return nil, false
}

func removedArea(m *weeding.Map) float64 {
	sum := 0.0
	for _, r := range m.Regions {
		if !r.Kept() {
			sum += r.AreaMM2
		}
	}
	return sum
}
