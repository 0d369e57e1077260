package tour

import (
	"iter"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// entryGrid finds the nearest entry among stops that come and go. Distances
// are Chebyshev's, as the axes of a machine move together.
type entryGrid struct {
	b       *budget.Budget
	stops   []stop
	grid    *near.Grid
	entries []entryRef // by number in the grid
	first   []int      // number of the first entry by stop
	room    float64    // side of the square that there is for each of many stops; 0: they are few
}

type entryRef struct{ stop, entry int }

// newEntryGrid returns a grid that is still empty, for entries of the members. Many
// stops are found by some of theirs.
func newEntryGrid(b *budget.Budget, stops []stop, members []int, room float64) *entryGrid {
	g := &entryGrid{b: b, stops: stops, first: make([]int, len(stops)), room: room}
	box := geometry.EmptyBox()
	for _, s := range members {
		b.Spend(len(stops[s].Entries))
		g.first[s] = len(g.entries)
		for e := range g.each(s) {
			box = box.Include(stops[s].Entries[e])
			g.entries = append(g.entries, entryRef{s, e})
		}
	}
	n := float64(len(g.entries))
	side := math.Max(math.Sqrt(box.Width()*box.Height()/n*2), math.Max(box.Width(), box.Height())/n)
	g.grid = near.NewGrid(math.Max(side, 1e-6), box.Min)
	return g
}

// each lists the entries of a stop that are in the grid, each with its number among
// them.
func (g *entryGrid) each(s int) iter.Seq2[int, int] {
	return func(yield func(entry, number int) bool) {
		n, step := len(g.stops[s].Entries), 1
		if g.room > 0 {
			step = stride(g.stops, s, g.room)
		}
		for e, k := 0, 0; e < n && yield(e, k); e, k = e+step, k+1 {
			g.b.Step()
		}
	}
}

func (g *entryGrid) add(s int) {
	for e, k := range g.each(s) {
		g.grid.Add(g.first[s]+k, g.stops[s].Entries[e])
	}
}

func (g *entryGrid) remove(s int) {
	for e, k := range g.each(s) {
		g.grid.Remove(g.first[s]+k, g.stops[s].Entries[e])
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

// around calls see for entries near p, the nearest cells first, until all that
// are left are farther away than the distance that see returned last.
func (g *entryGrid) around(p geometry.Point, see func(entryRef, float64) float64) {
	g.grid.Around(g.b, p, func(id int, d float64) float64 { return see(g.entries[id], d) })
}
