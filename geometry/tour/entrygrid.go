package tour

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// entryGrid finds the nearest entry among stops that come and go. Distances
// are Chebyshev's, as the axes of a machine move together.
type entryGrid struct {
	b     *budget.Budget
	stops []stop
	min   geometry.Point
	cell  float64
	w, h  int
	lists [][]entryRef
	count int
}

type entryRef struct{ stop, entry int }

func newEntryGrid(b *budget.Budget, stops []stop, members []int) *entryGrid {
	box, n := geometry.EmptyBox(), 0
	for _, s := range members {
		b.Spend(len(stops[s].Entries))
		for _, p := range stops[s].Entries {
			box = box.Include(p)
		}
		n += len(stops[s].Entries)
	}
	g := &entryGrid{b: b, stops: stops, min: box.Min}
	g.cell = math.Max(math.Sqrt(box.Width()*box.Height()/float64(n)*2), math.Max(box.Width(), box.Height())/float64(n))
	g.cell = math.Max(g.cell, 1e-6)
	g.w, g.h = int(box.Width()/g.cell)+1, int(box.Height()/g.cell)+1
	g.lists = make([][]entryRef, g.w*g.h)
	return g
}

func (g *entryGrid) index(p geometry.Point) (x, y int) {
	clamp := func(v float64, n int) int { return max(0, min(n-1, int(math.Floor(v/g.cell)))) }
	return clamp(p.X-g.min.X, g.w), clamp(p.Y-g.min.Y, g.h)
}

func (g *entryGrid) add(s int) {
	g.b.Spend(len(g.stops[s].Entries))
	for e, p := range g.stops[s].Entries {
		x, y := g.index(p)
		g.lists[y*g.w+x] = append(g.lists[y*g.w+x], entryRef{s, e})
		g.count++
	}
}

func (g *entryGrid) remove(s int) {
	for _, p := range g.stops[s].Entries {
		x, y := g.index(p)
		list := g.lists[y*g.w+x]
		g.b.Spend(1 + len(list))
		kept := slices.DeleteFunc(list, func(r entryRef) bool { return r.stop == s })
		g.count -= len(list) - len(kept)
		g.lists[y*g.w+x] = kept
	}
}

// nearest returns the stop with the nearest entry to p; of equally near ones
// the first by number. The grid must not be empty.
func (g *entryGrid) nearest(p geometry.Point) (stop, entry int) {
	best, ref := math.Inf(1), entryRef{-1, 0}
	g.around(p, func(r entryRef, d float64) float64 {
		if d < best || d == best && (r.stop < ref.stop || r.stop == ref.stop && r.entry < ref.entry) {
			best, ref = d, r
		}
		return best
	})
	return ref.stop, ref.entry
}

// around calls see for entries near p, ring by ring of cells, until a ring
// begins farther away than the distance that see returned last.
func (g *entryGrid) around(p geometry.Point, see func(entryRef, float64) float64) {
	cx, cy := g.index(p)
	enough := math.Inf(1)
	// A point outside the grid is that much farther from every ring.
	off := chebyshev(p, geometry.Pt(
		math.Max(g.min.X, math.Min(p.X, g.min.X+float64(g.w)*g.cell)),
		math.Max(g.min.Y, math.Min(p.Y, g.min.Y+float64(g.h)*g.cell))))
	visit := func(x, y int) {
		if x < 0 || y < 0 || x >= g.w || y >= g.h {
			return
		}
		g.b.Spend(len(g.lists[y*g.w+x]))
		for _, r := range g.lists[y*g.w+x] {
			enough = see(r, chebyshev(p, g.stops[r.stop].Entries[r.entry]))
		}
	}
	for ring := 0; ring <= max(g.w, g.h); ring++ {
		if math.Max(float64(ring-1)*g.cell, off) > enough {
			return
		}
		g.b.Spend(1 + 8*ring)
		for d := -ring; d <= ring; d++ {
			visit(cx+d, cy-ring)
			if ring > 0 {
				visit(cx+d, cy+ring)
			}
			if d > -ring && d < ring {
				visit(cx-ring, cy+d)
				visit(cx+ring, cy+d)
			}
		}
	}
}

func chebyshev(p, q geometry.Point) float64 {
	return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y))
}
