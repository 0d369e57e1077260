package picture

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/weeding"
)

// tile is a part of the map that is drawn enlarged.
type tile struct {
	box   geometry.Box // mm
	name  string
	steps []weeding.Step
}

// When parts are drawn enlarged.
const (
	farFrom     = 4   // radii from its pick point from which a number stands far off
	manyUnclear = 6   // above that many numbers that are far off or hide something
	mostHidden  = 0.1 // or where numbers beside their regions hide more of the map
)

// whole draws the whole map, with the numbers of the steps where they have
// room, and else with the parts that follow.
func (s *sheet) whole() {
	s.open(s.extent, inset{tight: s.ofSheet})
	s.content()
	all := s.place(s.m.Steps)
	if s.crowded(all) {
		s.tiles = s.cut()
	}
	s.markFindings(s.findings, s.caution, 1)
	if len(s.tiles) == 0 {
		s.number(all)
	} else {
		s.outlineTiles()
	}
}

// crowded reports whether numbers have no room, many of them are unclear, or
// those beside their regions hide too much.
func (s *sheet) crowded(all []standing) bool {
	unclear, none, hidden := 0, 0, 0.0
	for i := range all {
		t := &all[i]
		switch {
		case t.r == 0:
			none++
			continue
		case t.covers || t.at.Dist(t.foot) > farFrom*t.r:
			unclear++
		}
		if t.apart() {
			hidden += math.Pi * t.r * t.r
		}
	}
	return none > 0 || unclear > manyUnclear || hidden > mostHidden*s.area.Width()*s.area.Height()
}

// most tiles along one side, and in all.
const (
	tilesAside = 4
	tilesInAll = 9
)

// cut chooses the grid of parts: many that fit for few parts. It is none where
// no grid gives a fifth more of the numbers room in their regions.
func (s *sheet) cut() []tile {
	n := float64(len(s.m.Steps))
	now := float64(s.fitting(s.scale))
	bestX, bestY, best := 1, 1, math.Inf(-1)
	for nx := 1; nx <= tilesAside; nx++ {
		for ny := 1; ny <= min(tilesAside, tilesInAll/nx); ny++ {
			const price = 0.06 // of all steps, for each part
			fits := float64(s.fitting(s.tileScale(nx, ny)))
			if worth := fits - price*n*float64(nx*ny); fits-now >= 0.2*n && worth > best {
				bestX, bestY, best = nx, ny, worth
			}
		}
	}
	if bestX*bestY == 1 {
		return nil
	}
	return s.grid(bestX, bestY)
}

// fitting counts the steps whose region would hold a number at the scale.
func (s *sheet) fitting(scale float64) int {
	n := 0
	for _, st := range s.m.Steps {
		const room = 12 // a small badge and a little of the region round it
		if r := s.byNumber[st.Region]; r != nil && r.PickRadiusMM*scale >= room {
			n++
		}
	}
	return n
}

// overlap is by how much of their size parts reach over their edges.
const overlap = 0.03

func (s *sheet) tileScale(nx, ny int) float64 {
	k := 1 + 2*overlap
	return math.Min((pageWidth-2*pageMargin)/(k*s.extent.Width()/float64(nx)), maxDrawing/(k*s.extent.Height()/float64(ny)))
}

// grid returns the parts that hold steps, row by row from the top.
func (s *sheet) grid(nx, ny int) []tile {
	xs := s.cuts(nx, func(b geometry.Box) (float64, float64) { return b.Min.X, b.Max.X })
	ys := s.cuts(ny, func(b geometry.Box) (float64, float64) { return b.Min.Y, b.Max.Y })
	slices.Reverse(ys)
	held := make([][]weeding.Step, nx*ny)
	for _, st := range s.m.Steps {
		x, y := 0, 0
		for x+1 < nx && st.Pick.X > xs[x+1] {
			x++
		}
		for y+1 < ny && st.Pick.Y < ys[y+1] {
			y++
		}
		held[y*nx+x] = append(held[y*nx+x], st)
	}
	var tiles []tile
	for i, steps := range held {
		if x, y := i%nx, i/nx; len(steps) > 0 {
			box := geometry.BoxAround(geometry.Pt(xs[x], ys[y]), geometry.Pt(xs[x+1], ys[y+1]))
			tiles = append(tiles, tile{box: s.cropped(box, steps), name: letter(len(tiles)), steps: steps})
		}
	}
	return tiles
}

// cropped takes off a part what holds none of its steps, down to a half of each
// side.
func (s *sheet) cropped(part geometry.Box, steps []weeding.Step) geometry.Box {
	held := geometry.EmptyBox()
	for _, st := range steps {
		if r := s.byNumber[st.Region]; r != nil {
			held = held.Union(r.Outer.Bounds())
		}
	}
	held = held.Grow(0.05 * math.Max(part.Width(), part.Height()))
	x0, x1 := crop(part.Min.X, part.Max.X, held.Min.X, held.Max.X)
	y0, y1 := crop(part.Min.Y, part.Max.Y, held.Min.Y, held.Max.Y)
	return geometry.BoxAround(geometry.Pt(x0, y0), geometry.Pt(x1, y1))
}

// crop narrows the range from lo to hi to what is wanted, to half at most.
func crop(lo, hi, wantLo, wantHi float64) (float64, float64) {
	a, b := math.Max(lo, wantLo), math.Min(hi, wantHi)
	if lack := (hi-lo)/2 - (b - a); lack > 0 {
		a, b = a-lack/2, b+lack/2
		shift := math.Max(0, lo-a) - math.Max(0, b-hi)
		a, b = a+shift, b+shift
	}
	return a, b
}

// cuts divides the extent along one axis, n+1 ascending values with its ends.
// Each cut moves by up to a sixth of a part to where it meets the fewest
// regions that are peeled, so that words stay whole.
func (s *sheet) cuts(n int, along func(geometry.Box) (lo, hi float64)) []float64 {
	from, to := along(s.extent)
	step := (to - from) / float64(n)
	at := []float64{from}
	for k := 1; k < n; k++ {
		even := from + float64(k)*step
		best, fewest := even, math.MaxInt
		for i := range 41 { // 0, −1, +1, −2, … hundredths
			v := even + step/6*float64((i+1)/2)/20*float64(1-2*(i%2))
			if met := s.met(v, along); met < fewest {
				best, fewest = v, met
			}
		}
		at = append(at, best)
	}
	return append(at, to)
}

// met counts the regions that are peeled which a cut would part.
func (s *sheet) met(v float64, along func(geometry.Box) (lo, hi float64)) int {
	n := 0
	for _, b := range s.peeled {
		if lo, hi := along(b); lo < v && v < hi {
			n++
		}
	}
	return n
}

// outlineTiles shows in the whole map which part is where.
func (s *sheet) outlineTiles() {
	s.zone = zoneMarks
	for _, t := range s.tiles {
		b := s.onPage(t.box)
		s.draw(style{stroke: paper, width: 4}, b.Path())
		s.draw(style{stroke: ink, width: 1.4}, b.Path())
		at := b.Min.Add(geometry.Pt(26, 26))
		s.draw(style{stroke: ink, width: 1.8, fill: paper}, geometry.BoxAround(at).Grow(17).Path())
		s.writeBold(geometry.Pt(at.X, at.Y+8.5), 24, middle, ink, t.name)
	}
}

// parts draws the parts enlarged, with the numbers of their steps.
func (s *sheet) parts() {
	for _, t := range s.tiles {
		list := make([]int, len(t.steps))
		for i, st := range t.steps {
			list[i] = st.Order
		}
		s.foot += 16
		s.zone = zoneHead
		s.writeBold(geometry.Pt(pageMargin, s.foot), 19, left, ink, "Part "+t.name)
		s.zone = zoneNotes
		s.foot += lineHeight
		noun := "Steps "
		if len(list) == 1 {
			noun = "Step "
		}
		s.lines(pageMargin, fmt.Sprintf("%s%s.", noun, numbers(list)))
		s.part(t)
	}
}

func (s *sheet) part(t tile) {
	whole := s.left
	s.foot -= 10
	s.open(t.box.Grow(overlap*math.Max(t.box.Width(), t.box.Height())), inset{tight: true})
	s.within(s.area, s.content)
	s.zone = zoneMarks
	s.draw(style{stroke: ink, width: 1.4}, s.area.Path())
	s.number(s.place(t.steps))
	s.scaleBar()
	s.left = whole
}
