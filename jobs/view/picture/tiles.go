package picture

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/weeding"
)

// tile is a part of the map that is drawn enlarged.
type tile struct {
	box   geometry.Box // mm
	name  string
	steps []weeding.Step
}

// division is how a map is divided into parts.
type division struct {
	b        *budget.Budget
	extent   geometry.Box // mm
	scale    float64      // at which the whole is drawn, pixels for one mm
	steps    []weeding.Step
	scaleOf  func(w, h float64) float64 // of a panel that shows w × h mm
	byNumber map[int]*weeding.Region
	peeled   []geometry.Box // boxes of the regions that go
}

// division returns how the map can be divided, once the whole is drawn.
func (s *sheet) division() *division {
	d := &division{b: s.b, extent: s.extent, scale: s.Scale, scaleOf: s.ScaleOf, steps: s.m.Steps, byNumber: s.byNumber}
	for i := range s.m.Regions {
		s.b.Spend(1 + len(s.m.Regions[i].Outer.Segments))
		if r := &s.m.Regions[i]; !r.Kept() {
			d.peeled = append(d.peeled, r.Outer.Bounds())
		}
	}
	return d
}

// most tiles along one side, and in all.
const (
	tilesAside = 4
	tilesInAll = 9
)

// cut chooses the grid of parts: many that fit for few parts. It is none where
// no grid gives a fifth more of the numbers room in their regions.
func (d *division) cut() []tile {
	n := float64(len(d.steps))
	now := float64(d.fitting(d.scale))
	bestX, bestY, best := 1, 1, math.Inf(-1)
	for nx := 1; nx <= tilesAside; nx++ {
		for ny := 1; ny <= min(tilesAside, tilesInAll/nx); ny++ {
			const price = 0.06 // of all steps, for each part
			fits := float64(d.fitting(d.tileScale(nx, ny)))
			if worth := fits - price*n*float64(nx*ny); fits-now >= 0.2*n && worth > best {
				bestX, bestY, best = nx, ny, worth
			}
		}
	}
	if bestX*bestY == 1 {
		return nil
	}
	return d.grid(bestX, bestY)
}

// A load of many copies is cut into parts of about so many steps, however small they are,
// and into no more parts than that.
const (
	stepsInTile = 12
	mostOfLoad  = 24
)

// cutLoad chooses the grid for a load of many copies: parts about as wide as high.
func (d *division) cutLoad() []tile {
	want := min(mostOfLoad, (len(d.steps)+stepsInTile-1)/stepsInTile)
	bestX, bestY, best := 1, 1, math.Inf(1)
	for nx := 1; nx <= want; nx++ {
		ny := (want + nx - 1) / nx
		off := math.Abs(math.Log(d.extent.Width() / float64(nx) * float64(ny) / d.extent.Height()))
		if nx*ny <= mostOfLoad && off < best {
			bestX, bestY, best = nx, ny, off
		}
	}
	if bestX*bestY == 1 {
		return nil
	}
	return d.grid(bestX, bestY)
}

// fitting counts the steps whose region would hold a number at the scale.
func (d *division) fitting(scale float64) int {
	d.b.Spend(len(d.steps))
	n := 0
	for _, st := range d.steps {
		const room = 12 // a small badge and a little of the region round it
		if r := d.byNumber[st.Region]; r != nil && r.PickRadiusMM*scale >= room {
			n++
		}
	}
	return n
}

// overlap is by how much of their size parts reach over their edges.
const overlap = 0.03

func (d *division) tileScale(nx, ny int) float64 {
	k := 1 + 2*overlap
	return d.scaleOf(k*d.extent.Width()/float64(nx), k*d.extent.Height()/float64(ny))
}

// grid returns the parts that hold steps, row by row from the top.
func (d *division) grid(nx, ny int) []tile {
	xs := d.cuts(nx, func(b geometry.Box) (float64, float64) { return b.Min.X, b.Max.X })
	ys := d.cuts(ny, func(b geometry.Box) (float64, float64) { return b.Min.Y, b.Max.Y })
	slices.Reverse(ys)
	held := make([][]weeding.Step, nx*ny)
	for _, st := range d.steps {
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
			tiles = append(tiles, tile{box: d.cropped(box, steps), name: letter(len(tiles)), steps: steps})
		}
	}
	return tiles
}

// cropped takes off a part what holds none of its steps, down to a half of each
// side.
func (d *division) cropped(part geometry.Box, steps []weeding.Step) geometry.Box {
	held := geometry.EmptyBox()
	for _, st := range steps {
		if r := d.byNumber[st.Region]; r != nil {
			d.b.Spend(1 + len(r.Outer.Segments))
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
func (d *division) cuts(n int, along func(geometry.Box) (lo, hi float64)) []float64 {
	from, to := along(d.extent)
	step := (to - from) / float64(n)
	at := []float64{from}
	for k := 1; k < n; k++ {
		even := from + float64(k)*step
		best, fewest := even, math.MaxInt
		for i := range 41 { // 0, −1, +1, −2, … hundredths
			v := even + step/6*float64((i+1)/2)/20*float64(1-2*(i%2))
			if met := d.met(v, along); met < fewest {
				best, fewest = v, met
			}
		}
		at = append(at, best)
	}
	return append(at, to)
}

// met counts the regions that are peeled which a cut would part.
func (d *division) met(v float64, along func(geometry.Box) (lo, hi float64)) int {
	d.b.Spend(len(d.peeled))
	n := 0
	for _, b := range d.peeled {
		if lo, hi := along(b); lo < v && v < hi {
			n++
		}
	}
	return n
}
