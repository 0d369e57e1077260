package nest

import (
	"slices"
	"sort"

	"knifedesk/geometry/budget"
)

// pattern is a set of equal rectangles in a rectangle: rows of one turn, or
// other patterns side by side.
type pattern struct {
	n          int64 // rectangles in it
	cols, rows int64 // of the rows, where there are no parts
	turned     bool
	parts      []part
}

// part is a pattern at its place in another.
type part struct {
	x, y int64
	in   *pattern
}

// tiler fills rectangles with equal rectangles of a along x and b along y, or
// turned, in µm with the gap added to every size. It splits a rectangle into
// five blocks set like a pinwheel round the middle one, and those again, as
// Morabito and Morales (J. Oper. Res. Soc. 49, 1998) and Birgin, Lobato and
// Morabito (J. Oper. Res. Soc. 61, 2010) do for pallets. Cuts straight through are
// pinwheels with empty blocks.
//
//	+-----+--------+      0 ≤ x1 ≤ x2 ≤ X
//	|  2     |  5  |      0 ≤ y1 ≤ y2 ≤ Y
//	+--+-----+     |
//	|  |  3  |     |
//	|1 +-----+-----+
//	|  |      4    |
//	+--+-----------+
//
// The search ends at the area bound or when the splits that it may look at are
// spent, so the answer never depends on a clock.
type tiler struct {
	budget *budget.Budget
	a, b   int64
	sums   []int64 // all i·a + j·b up to the largest side, sorted
	memo   map[[2]int64]known
	splits *budget.Budget // that may still be looked at
}

// known is the best pattern found for a rectangle, searched to depth.
type known struct {
	best  *pattern
	depth int
}

const (
	mostSplits = 1_000_000 // splits looked at for a whole sheet
	splitDepth = 3         // pinwheels within pinwheels
	maxSums    = 20_000    // more cut positions than this are not kept
	maxRaster  = 60        // positions tried along a side
)

// newTiler returns a tiler for rectangles with sides of at most side.
func newTiler(steps *budget.Budget, a, b, side int64) *tiler {
	t := &tiler{budget: steps, a: a, b: b, memo: map[[2]int64]known{}}
	for i := int64(0); i*a <= side && len(t.sums) < maxSums; i++ {
		for j := int64(0); i*a+j*b <= side && len(t.sums) < maxSums; j++ {
			steps.Step()
			t.sums = append(t.sums, i*a+j*b)
		}
	}
	slices.Sort(t.sums)
	t.sums = slices.Compact(t.sums)
	return t
}

// norm returns the largest sum of sides that fits into x: what is beyond
// cannot be used.
func (t *tiler) norm(x int64) int64 {
	i := sort.Search(len(t.sums), func(i int) bool { return t.sums[i] > x })
	if i == 0 {
		return 0
	}
	return t.sums[i-1]
}

// fill returns the best pattern found in x by y with so many splits.
func (t *tiler) fill(x, y int64, splits int) *pattern {
	t.splits = t.budget.Allow(splits)
	best := &pattern{}
	for depth := 1; depth <= splitDepth && !t.splits.Over(); depth++ {
		best = t.solve(x, y, depth)
	}
	return best
}

// solve returns the best pattern known for x by y, searched to depth.
func (t *tiler) solve(x, y int64, depth int) *pattern {
	x, y = t.norm(x), t.norm(y)
	best := t.uniform(x, y)
	bound := t.bound(x, y)
	if best.n == bound || depth == 0 {
		return best
	}
	key := [2]int64{x, y}
	if k, ok := t.memo[key]; ok {
		if k.depth >= depth || k.best.n == bound {
			return k.best
		}
		best = k.best
	}
	best = t.split(x, y, depth, best, bound)
	if t.splits.Over() {
		depth = 0 // cut short: worth another look with new splits
	}
	t.memo[key] = known{best, depth}
	return best
}

// bound is how many rectangles x by y holds by area.
func (t *tiler) bound(x, y int64) int64 { return x * y / (t.a * t.b) }

// uniform fills x by y with rows of one turn, the better of the two.
func (t *tiler) uniform(x, y int64) *pattern {
	straight := &pattern{cols: x / t.a, rows: y / t.b}
	turned := &pattern{cols: x / t.b, rows: y / t.a, turned: true}
	straight.n, turned.n = straight.cols*straight.rows, turned.cols*turned.rows
	if turned.n > straight.n {
		return turned
	}
	return straight
}

// split looks for pinwheels in x by y that hold more than best does.
func (t *tiler) split(x, y int64, depth int, best *pattern, bound int64) *pattern {
	across, along := t.raster(x), t.raster(y)
	for i, x1 := range across {
		for _, x2 := range across[i:] {
			for j, y1 := range along {
				for _, y2 := range along[j:] {
					if !t.splits.Spend(1) {
						return best
					}
					best = t.better(best, depth, [5]block{
						{0, 0, x1, y2},
						{0, y2, x2, y - y2},
						{x1, y1, x2 - x1, y2 - y1},
						{x1, 0, x - x1, y1},
						{x2, y1, x - x2, y - y1},
					}, x, y)
					if best.n == bound {
						return best
					}
				}
			}
		}
	}
	return best
}

// block is one of the five parts of a pinwheel.
type block struct{ x, y, w, h int64 }

// better returns the pattern of the five blocks where it holds more than
// best, else best. Blocks are solved one by one, as long as the area of those
// to come leaves hope.
func (t *tiler) better(best *pattern, depth int, blocks [5]block, x, y int64) *pattern {
	hope := int64(0)
	for _, b := range blocks {
		if b.w == x && b.h == y {
			return best // the rectangle itself
		}
		hope += t.bound(b.w, b.h)
	}
	if hope <= best.n {
		return best
	}
	found := &pattern{}
	for _, b := range blocks {
		if b.w == 0 || b.h == 0 {
			continue
		}
		in := t.solve(b.w, b.h, depth-1)
		hope += in.n - t.bound(b.w, b.h)
		if hope <= best.n {
			return best
		}
		if in.n > 0 {
			found.n += in.n
			found.parts = append(found.parts, part{b.x, b.y, in})
		}
	}
	return found
}

// raster returns the positions at which a side of length x is cut: the sums of
// sides taken from the far end, which leaves out those that only shift a gap.
func (t *tiler) raster(x int64) []int64 {
	at := []int64{0, x}
	for _, s := range t.sums {
		if s > x {
			break
		}
		at = append(at, t.norm(x-s))
	}
	if len(at) > maxRaster {
		at = at[:2]
		for s := int64(0); s <= x && len(at) < maxRaster; s += t.a {
			at = append(at, s, t.norm(x-s))
		}
		for s := int64(0); s <= x && len(at) < 2*maxRaster; s += t.b {
			at = append(at, s, t.norm(x-s))
		}
	}
	t.budget.Spend(len(at))
	slices.Sort(at)
	return slices.Compact(at)
}

// place appends the slots of p at (x, y).
func (t *tiler) place(slots []Slot, p *pattern, x, y int64) []Slot {
	for _, in := range p.parts {
		slots = t.place(slots, in.in, x+in.x, y+in.y)
	}
	w, h := t.size(p.turned)
	for r := int64(0); r < p.rows; r++ {
		for c := int64(0); c < p.cols; c++ {
			t.budget.Step()
			slots = append(slots, Slot{x + c*w, y + r*h, p.turned})
		}
	}
	return slots
}

// size returns the extent of one rectangle, gap included.
func (t *tiler) size(turned bool) (w, h int64) {
	if turned {
		return t.b, t.a
	}
	return t.a, t.b
}
