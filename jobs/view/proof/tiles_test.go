package proof_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/view/proof"
)

// Whoever glues the tiles together by their crosses has the whole work: each ink of it
// is within a tile, each cross of a tile lies on one of another where the work is the
// same, neighbours share two at least, and name each other. No tile is empty. Source: the
// lines of the drawing as poppler shows them on each page, and nothing of how tiles are
// counted.
func TestTilesMeet(t *testing.T) {
	for _, tt := range []struct {
		name, path string
		w, h       float64
		tiles      int
	}{
		{"in a row", "M0 0L190 60L380 60L200 80L0 100Z", 380, 100, 3},
		{"in a column", "M0 0L100 250L90 500L80 250Z", 100, 500, 3},
		{"aslant", "M0 0L290 270L580 540L560 580L280 290Z", 580, 580, 6},
		{"aslant the other way", "M580 0L290 270L0 540L20 580L300 290Z", 580, 580, 6},
	} {
		t.Run(tt.name, func(t *testing.T) {
			drawn := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="800mm" height="800mm" viewBox="0 0 800 800"><g id="CUT" stroke="#007c91" fill="none"><path transform="translate(20 20)" d="%s"/></g></svg>`, tt.path)
			pages := pagesOf(t, planned(t, drawn), proof.A4())
			if len(pages) != tt.tiles {
				t.Fatalf("%d tiles, want %d: %s", len(pages), tt.tiles, pages[len(pages)-1].text)
			}
			var all []tileSeen
			for i := range pages {
				all = append(all, see(t, &pages[i], tt.w, tt.h))
			}
			covered(t, all)
			for i, one := range all {
				one.meets(t, all[:i])
			}
			for _, one := range all {
				one.hangsTogether(t, all)
			}
		})
	}
}

// tileSeen is a page by where it lies on the work.
type tileSeen struct {
	name, text string
	window     geometry.Box
	crosses    []geometry.Point
	work       geometry.Path
}

// see finds the work on a page by its size, and with it where the page lies.
func see(t *testing.T, p *page, w, h float64) (s tileSeen) {
	t.Helper()
	const width, height, margin, foot = 210, 297, 10, 58
	s.text = p.text
	_, rest, _ := strings.Cut(p.text, "Tile ")
	s.name, _, _ = strings.Cut(rest, " ")
	var level, upright []geometry.Point
	found, edged := false, false
	var by geometry.Point
	for _, one := range p.paths {
		b := one.Bounds()
		switch is := func(w, h float64) bool { return math.Abs(b.Width()-w) < 0.01 && math.Abs(b.Height()-h) < 0.01 }; {
		case is(w, h):
			found, by, s.work = true, b.Min, one
		case is(width-2*margin, height-2*margin-foot):
			edged = true
		case is(6, 0):
			level = append(level, b.Centre())
		case is(0, 6):
			upright = append(upright, b.Centre())
		}
	}
	if !found {
		t.Fatalf("tile %s shows nothing of the work: %s", s.name, p.text)
	}
	if !edged {
		t.Errorf("tile %s has no edge", s.name)
	}
	for i, c := range level {
		if i < len(upright) && c.Dist(upright[i]) < 0.01 {
			s.crosses = append(s.crosses, c.Sub(by))
		}
	}
	if len(s.crosses) != len(level) || len(level) != len(upright) {
		t.Errorf("tile %s: the lines %v and %v are no crosses", s.name, level, upright)
	}
	s.work = s.work.Transform(geometry.Translate(-by.X, -by.Y))
	s.window = geometry.Box{Min: geometry.Pt(margin, margin+foot).Sub(by), Max: geometry.Pt(width-margin, height-margin).Sub(by)}
	return s
}

// covered holds that each point of the work is on a tile and each tile holds some.
func covered(t *testing.T, all []tileSeen) {
	t.Helper()
	inked := make([]bool, len(all))
	from := all[0].work.Start
	for _, s := range all[0].work.Segments {
		for k := range 1001 {
			at, on := from.Lerp(s.End, float64(k)/1000), false
			for i := range all {
				if w := all[i].window; w.Min.X-0.01 <= at.X && at.X <= w.Max.X+0.01 && w.Min.Y-0.01 <= at.Y && at.Y <= w.Max.Y+0.01 {
					on, inked[i] = true, true
				}
			}
			if !on {
				t.Fatalf("%v of the work is on no tile", at)
			}
		}
		from = s.End
	}
	for i := range all {
		if !inked[i] {
			t.Errorf("tile %s is empty", all[i].name)
		}
	}
}

// meets holds that a tile shares two crosses with each that lies beside it, and that
// they name each other.
func (s *tileSeen) meets(t *testing.T, others []tileSeen) {
	t.Helper()
	for i := range others {
		o := &others[i]
		dx, dy := math.Abs(o.window.Min.X-s.window.Min.X), math.Abs(o.window.Min.Y-s.window.Min.Y)
		beside := dx < 0.01 && dy < s.window.Height() || dy < 0.01 && dx < s.window.Width()
		if !beside {
			continue
		}
		shared := 0
		for _, c := range s.crosses {
			if o.hasCross(c) {
				shared++
			}
		}
		if shared < 2 {
			t.Errorf("tiles %s and %s share %d crosses: %v, %v", s.name, o.name, shared, s.crosses, o.crosses)
		}
		if strings.Count(s.text, o.name) != 1 || strings.Count(o.text, s.name) != 1 {
			t.Errorf("tiles %s and %s do not name each other once: %s | %s", s.name, o.name, s.text, o.text)
		}
	}
}

// hangsTogether holds that each cross of a tile is on another, unless that is left out.
func (s *tileSeen) hangsTogether(t *testing.T, all []tileSeen) {
	t.Helper()
	for _, c := range s.crosses {
		on := 0
		for i := range all {
			w := all[i].window
			if w.Min.X < c.X && c.X < w.Max.X && w.Min.Y < c.Y && c.Y < w.Max.Y {
				on++
				if !all[i].hasCross(c) {
					t.Errorf("the cross %v of tile %s is not on %s: %v", c, s.name, all[i].name, all[i].crosses)
				}
			}
		}
		if on == 0 {
			t.Errorf("the cross %v of tile %s is beside its window", c, s.name)
		}
	}
}

func (s *tileSeen) hasCross(c geometry.Point) bool {
	for _, mine := range s.crosses {
		if mine.Dist(c) < 0.02 {
			return true
		}
	}
	return false
}
