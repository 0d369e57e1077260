package passes

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// stop is one stroke of one copy on a load: where it can be entered. A closed
// stroke ends where it started; an open one has two entries and ends at the
// other.
type stop struct {
	copy, stroke int
	closed       bool
	entries      []geometry.Point
	phase        int
	after        []int // stops that have to come later
	before       []int // stops that have to come earlier
}

// exit is where the knife leaves a stop that it entered at the given entry.
func (s *stop) exit(entry int) geometry.Point {
	if s.closed {
		return s.entries[entry]
	}
	return s.entries[1-entry]
}

// visit returns the stops in the order in which the machine visits them from
// the point at, and the entry of each. Phases follow each other; within a phase
// the order respects after and before, and travel is shortened.
func visit(stops []stop, at geometry.Point, m workshop.Machine) (order, entry []int) {
	entry = make([]int, len(stops))
	cost := travelCost(m)
	for _, phase := range phases(stops) {
		t := newTour(stops, phase, entry, at, cost)
		t.shorten(kicksMost * len(phase) / len(stops))
		order = append(order, t.seq...)
		at = t.out(t.seq[len(t.seq)-1])
	}
	return order, entry
}

// phases groups the stops by phase, the lowest first.
func phases(stops []stop) [][]int {
	var numbers []int
	by := map[int][]int{}
	for i, s := range stops {
		if by[s.phase] == nil {
			numbers = append(numbers, s.phase)
		}
		by[s.phase] = append(by[s.phase], i)
	}
	slices.Sort(numbers)
	groups := make([][]int, len(numbers))
	for i, n := range numbers {
		groups[i] = by[n]
	}
	return groups
}

// tour is an open path through stops from a fixed point.
type tour struct {
	stops []stop
	seq   []int // the order
	pos   []int // place in seq by stop, -1 for stops of other phases
	entry []int // chosen entry by stop
	start geometry.Point
	cost  func(p, q geometry.Point) float64
}

func newTour(stops []stop, members []int, entry []int, start geometry.Point, cost func(p, q geometry.Point) float64) *tour {
	t := &tour{stops: stops, seq: members, pos: make([]int, len(stops)), entry: entry, start: start, cost: cost}
	for i := range t.pos {
		t.pos[i] = -1
	}
	for i, s := range t.seq {
		t.pos[s] = i
	}
	return t
}

// shorten orders the stops: exactly where they are few, else by the nearest
// next and a local search of the given budget.
func (t *tour) shorten(budget int) {
	if !t.exact() {
		t.nearest()
		t.improve(budget)
	}
}

// in and out are where the knife enters and leaves a stop.
func (t *tour) in(s int) geometry.Point { return t.stops[s].entries[t.entry[s]] }

func (t *tour) out(s int) geometry.Point { return t.stops[s].exit(t.entry[s]) }

// link is the cost of reaching place i from the one before; past the end it
// is nought, since the path may end anywhere.
func (t *tour) link(i int) float64 {
	if i >= len(t.seq) {
		return 0
	}
	return t.cost(t.outAt(i-1), t.in(t.seq[i]))
}

// outAt is where the knife leaves place i; place -1 is the start.
func (t *tour) outAt(i int) geometry.Point {
	if i < 0 {
		return t.start
	}
	return t.out(t.seq[i])
}

// nearest orders the stops by always going to the nearest entry of a stop
// whose predecessors are done.
func (t *tour) nearest() {
	members := slices.Clone(t.seq)
	grid := newPointGrid(t.stops, members)
	waiting := map[int]int{}
	for _, s := range members {
		for _, b := range t.stops[s].before {
			if t.pos[b] >= 0 {
				waiting[s]++
			}
		}
		if waiting[s] == 0 {
			grid.add(s)
		}
	}
	t.seq = t.seq[:0]
	at := t.start
	for range members {
		s, e := grid.nearest(at)
		grid.remove(s)
		t.entry[s] = e
		t.seq = append(t.seq, s)
		at = t.out(s)
		for _, next := range t.stops[s].after {
			if t.pos[next] < 0 {
				continue
			}
			if waiting[next]--; waiting[next] == 0 {
				grid.add(next)
			}
		}
	}
	for i, s := range t.seq {
		t.pos[s] = i
	}
}

// pointGrid finds the nearest entry among stops that come and go. Distances
// are Chebyshev's, as the axes move together.
type pointGrid struct {
	stops []stop
	min   geometry.Point
	cell  float64
	w, h  int
	lists [][]entryRef
	count int
}

type entryRef struct{ stop, entry int }

func newPointGrid(stops []stop, members []int) *pointGrid {
	box, n := geometry.EmptyBox(), 0
	for _, s := range members {
		for _, p := range stops[s].entries {
			box = box.Include(p)
		}
		n += len(stops[s].entries)
	}
	g := &pointGrid{stops: stops, min: box.Min}
	g.cell = math.Max(math.Sqrt(box.Width()*box.Height()/float64(n)*2), math.Max(box.Width(), box.Height())/float64(n))
	g.cell = math.Max(g.cell, 1e-6)
	g.w, g.h = int(box.Width()/g.cell)+1, int(box.Height()/g.cell)+1
	g.lists = make([][]entryRef, g.w*g.h)
	return g
}

func (g *pointGrid) index(p geometry.Point) (x, y int) {
	clamp := func(v float64, n int) int { return max(0, min(n-1, int(math.Floor(v/g.cell)))) }
	return clamp(p.X-g.min.X, g.w), clamp(p.Y-g.min.Y, g.h)
}

func (g *pointGrid) add(s int) {
	for e, p := range g.stops[s].entries {
		x, y := g.index(p)
		g.lists[y*g.w+x] = append(g.lists[y*g.w+x], entryRef{s, e})
		g.count++
	}
}

func (g *pointGrid) remove(s int) {
	for _, p := range g.stops[s].entries {
		x, y := g.index(p)
		list := g.lists[y*g.w+x]
		kept := slices.DeleteFunc(list, func(r entryRef) bool { return r.stop == s })
		g.count -= len(list) - len(kept)
		g.lists[y*g.w+x] = kept
	}
}

// nearest returns the stop with the nearest entry to p; of equally near ones
// the first by number. The grid must not be empty.
func (g *pointGrid) nearest(p geometry.Point) (stop, entry int) {
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
func (g *pointGrid) around(p geometry.Point, see func(entryRef, float64) float64) {
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
		for _, r := range g.lists[y*g.w+x] {
			enough = see(r, chebyshev(p, g.stops[r.stop].entries[r.entry]))
		}
	}
	for ring := 0; ring <= max(g.w, g.h); ring++ {
		if math.Max(float64(ring-1)*g.cell, off) > enough {
			return
		}
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
