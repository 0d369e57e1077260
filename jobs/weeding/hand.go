package weeding

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
)

// hand splits what is too long to be peeled at once.
type hand struct {
	budget  *budget.Budget
	longest float64 // mm, of the longer side of a part's box
	clear   float64 // mm that a cut keeps off kept film
	whole   *clearance.Region
	cuts    [][]geometry.Point
	stuck   int // parts still too long

	// Rooms that the search for each cut uses again.
	index    loopIndex
	crossed  []crossed
	meetings []meeting
	chordsOf []chord
}

func longerThan(loop []geometry.Point, longest float64) bool {
	return longSide(geometry.BoxAround(loop...)) > longest
}

func longSide(b geometry.Box) float64 { return math.Max(b.Width(), b.Height()) }

// Bounds that keep a drawing of absurd size from keeping the job busy: the parts
// of one region, of which a roll of 1.2 × 25 m needs 750, and the steps that the
// search for its cuts may take, in all and for each corner.
const (
	maxParts       = 1000
	stepsAtAll     = 3_800_000
	stepsPerCorner = 200
)

// split cuts the loop by lines along the axes until no part is longer than a
// hand, or no line helps that meets the boundary within 30° of its normals and
// keeps clear of it. It returns the parts in the order in which they were cut
// off.
func (h *hand) split(loop clearance.Walk) []clearance.Walk {
	if !longerThan(loop.Points, h.longest) {
		return []clearance.Walk{loop}
	}
	h.budget = h.budget.Allow(stepsAtAll + stepsPerCorner*len(loop.Points))
	h.whole = clearance.NewRegion(h.budget, loop.Points)
	var parts []clearance.Walk
	todo := []clearance.Walk{loop}
	for len(todo) > 0 {
		loop := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		h.budget.Spend(len(loop.Points))
		if !longerThan(loop.Points, h.longest) {
			parts = append(parts, loop)
			continue
		}
		cut, ok := chord{}, false
		if len(parts)+len(todo) < maxParts && !h.budget.Over() {
			cut, ok = h.best(loop.Points)
		}
		if !ok {
			h.stuck++
			parts = append(parts, loop)
			continue
		}
		h.cuts = append(h.cuts, cut.path)
		first, second := cut.apart(loop)
		todo = append(todo, second, first)
	}
	return parts
}

// chord is a line through a loop from edge i to edge j. Its path is straight
// where it meets both edges square, and leaves them square otherwise.
type chord struct {
	from, to geometry.Point
	i, j     int
	path     []geometry.Point
	score    float64
}

// apart returns the two loops that the chord makes of one.
func (c chord) apart(loop clearance.Walk) (first, second clearance.Walk) {
	back := slices.Clone(c.path)
	slices.Reverse(back)
	return side(loop, back, c.i, c.j), side(loop, c.path, c.j, c.i)
}

// side returns the loop along the path, whose end lies on edge i, and on along
// the corners to the start of the path on edge j.
func side(loop clearance.Walk, path []geometry.Point, i, j int) clearance.Walk {
	n, end := len(loop.Points), len(path)-1
	most := len(path) + (j-i+n)%n
	out := clearance.Walk{Points: make([]geometry.Point, 0, most), On: make([]int32, 0, most)}
	for _, p := range path[:end] {
		out.Put(p, clearance.NoSide)
	}
	out.Put(path[end], loop.On[i])
	if i <= j {
		out.PutAll(loop, i+1, j+1)
	} else {
		out.PutAll(loop, i+1, n)
		out.PutAll(loop, 0, j+1)
	}
	out.Close()
	return out
}

// best returns the chord to cut, the one of the highest score that can be laid.
func (h *hand) best(loop []geometry.Point) (best chord, found bool) {
	h.budget.Spend(4 * len(loop)) // for the index
	l := &h.index
	l.fill(loop)
	box := l.box(0, len(loop)-1)
	best.score = math.Inf(-1)
	for _, upright := range [2]bool{false, true} { // of two as good the level one
		for _, c := range h.chords(loop, box, upright) {
			if c.score = h.score(l, c); c.score > best.score && h.lay(&c, loop) {
				best, found = c, true
			}
		}
	}
	return best, found
}

// score rates a chord, in mm² of use: the fewer parts will be needed after it
// the better, by the boxes of the two it makes; then the larger the part that
// already fits a hand, or the smaller of two that do not; less its length. A
// chord that frees less than its length is worth is of no use: −Inf.
func (h *hand) score(l *loopIndex, c chord) float64 {
	h.budget.Spend(8) // the boxes of two stretches
	a, b := l.side(c.from, c.i, c.to, c.j), l.side(c.to, c.j, c.from, c.i)
	if math.Min(a.area, b.area) <= 0 {
		return math.Inf(-1)
	}
	parts, gain := h.parts(a.box)+h.parts(b.box), 0.0
	for _, m := range [2]measured{a, b} {
		if h.parts(m.box) == 1 {
			gain = math.Max(gain, m.area)
		}
	}
	if gain == 0 {
		gain = math.Min(a.area, b.area)
	}
	gain -= c.from.Dist(c.to) * h.longest / 8
	if gain <= 0 {
		return math.Inf(-1)
	}
	return gain - parts*h.longest*h.longest
}

// parts returns how many squares of a hand's length cover the box.
func (h *hand) parts(b geometry.Box) float64 {
	return math.Max(1, math.Ceil(b.Width()/h.longest)) * math.Max(1, math.Ceil(b.Height()/h.longest))
}

// lay gives the chord its path and reports whether it keeps clear of the
// boundary, further than the clearance from its ends. A line that is not
// square to an edge would come nearer than that beside its end; so it leaves
// the edge square for the length of the clearance.
func (h *hand) lay(c *chord, loop []geometry.Point) bool {
	p, q := c.from.Add(inward(loop, c.i).Mul(h.clear)), c.to.Add(inward(loop, c.j).Mul(h.clear))
	reach := c.to.Sub(c.from)
	if reach.Norm() <= 2*h.clear || q.Sub(p).Dot(reach) <= 0 {
		return false
	}
	c.path = []geometry.Point{c.from, p, q, c.to}
	if u := reach.Unit(); u.Dot(inward(loop, c.i)) > 1-1e-12 && u.Dot(inward(loop, c.j)) < -1+1e-12 {
		c.path = []geometry.Point{c.from, c.to}
	}
	return h.free(p, q, h.clear*(1-1e-9))
}

// free reports whether a line inside a part comes no nearer than d to the
// boundary of the part. That is made of pieces of the boundary of the whole and of
// cuts, and all the rest of these lies beyond it, farther away.
func (h *hand) free(p, q geometry.Point, d float64) bool {
	if !h.whole.Clear(h.budget, p, q, d) {
		return false
	}
	for _, cut := range h.cuts {
		h.budget.Spend(len(cut))
		for k := 1; k < len(cut); k++ {
			if clearance.Gap(p, q, cut[k-1], cut[k]) < d {
				return false
			}
		}
	}
	return true
}

// inward returns the unit normal of edge i into the loop.
func inward(loop []geometry.Point, i int) geometry.Point {
	return loop[(i+1)%len(loop)].Sub(loop[i]).Unit().Perp()
}
