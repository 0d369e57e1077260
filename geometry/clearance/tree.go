package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// few edges are looked at one by one: they are one leaf.
const few = 24

const (
	inLeaf   = 8     // edges at most that a leaf of a larger tree holds
	rounding = 3e-14 // of a dozen operations, as a share
)

// tree holds the edges of a region in boxes that hold boxes. Each box is turned
// along its edges, so that neither a comb nor a slanted hatch of long lines
// crowds it, as squares of a grid would be (boxes turned along what they hold;
// Gottschalk, Lin and Manocha, 1996). A leaf holds a run of edges of one ring, which lie
// near each other anyway, so that only runs are put in order. It takes O(n) room and
// O(n log n) time, of which all but a pass over the edges is an eighth.
type tree struct {
	edges []edge
	nodes []node // a left child follows its parent
}

// node is a box of the tree, turned along dir, with the upright box round the
// same edges. Both are a little wider than the edges, against rounding.
type node struct {
	dir      geometry.Point // unit
	turned   geometry.Box   // along dir and across it
	right    int32          // the right child; 0: a leaf
	from, to int32          // the edges of a leaf; of another, its runs
	upright  geometry.Box
}

// newTree returns the tree of edges, with boxes of leaves no thicker than thick mm where
// they hold several.
func newTree(b *budget.Budget, edges []edge, thick float64) tree {
	if n := len(edges); n > few {
		return tree{edges, boxed(b, edges, thick)}
	} else if n > 0 {
		b.Spend(n)
		return tree{edges, []node{plain(edges)}}
	}
	return tree{}
}

// oneLeaf reports whether all edges are looked at one by one.
func (t *tree) oneLeaf() bool { return len(t.nodes) <= 1 }

// plain returns a node round all edges that is not turned.
func plain(edges []edge) node {
	n := node{dir: geometry.Pt(1, 0), upright: geometry.EmptyBox(), to: int32(len(edges))}
	for i := range edges {
		n.upright = n.upright.Include(edges[i].a)
	}
	n.upright = n.upright.Grow(n.slop())
	n.turned = n.upright
	return n
}

// slop is by how much a box is made wider than what it holds.
func (n *node) slop() float64 {
	return rounding * max(n.upright.Min.Norm(), n.upright.Max.Norm())
}

// widen makes a box hold p, in less time than geometry.Box.Include, which copies it.
func widen(b *geometry.Box, p geometry.Point) {
	if p.X < b.Min.X {
		b.Min.X = p.X
	}
	if p.X > b.Max.X {
		b.Max.X = p.X
	}
	if p.Y < b.Min.Y {
		b.Min.Y = p.Y
	}
	if p.Y > b.Max.Y {
		b.Max.Y = p.Y
	}
}

// frame returns p by its lengths along and across the direction of the node.
func (n *node) frame(p geometry.Point) geometry.Point {
	return geometry.Point{X: n.dir.X*p.X + n.dir.Y*p.Y, Y: n.dir.X*p.Y - n.dir.Y*p.X}
}

// apart returns the square of the distance between p and the turned box, 0
// inside.
func (n *node) apart(p geometry.Point) float64 {
	x, y := n.dir.X*p.X+n.dir.Y*p.Y, n.dir.X*p.Y-n.dir.Y*p.X
	dx, dy := beyond(x, n.turned.Min.X, n.turned.Max.X), beyond(y, n.turned.Min.Y, n.turned.Max.Y)
	return dx*dx + dy*dy
}

// beyond returns how far v lies outside lo…hi. Searches spend most of their time
// here, and comparisons take less of it than math.Max.
func beyond(v, lo, hi float64) float64 {
	if v < lo {
		return lo - v
	}
	if v > hi {
		return v - hi
	}
	return 0
}

// corners returns the corners of the turned box.
func (n *node) corners() [4]geometry.Point {
	c := n.turned.Corners()
	for i, p := range c {
		c[i] = n.dir.Mul(p.X).Add(n.dir.Perp().Mul(p.Y))
	}
	return c
}

// off returns how far what some points span lies off the turned box, or less.
func (n *node) off(points ...geometry.Point) float64 {
	box := geometry.EmptyBox()
	for _, p := range points {
		box = box.Include(n.frame(p))
	}
	return gap(box, n.turned)
}

// away reports whether what two boxes hold is certainly farther apart than enough.
func (n *node) away(other *node, enough float64) bool {
	if gap(n.upright, other.upright) > enough {
		return true
	}
	if !n.slim() && !other.slim() {
		return false
	}
	own, far := n.corners(), other.corners()
	return other.off(own[:]...) > enough || n.off(far[:]...) > enough
}

// slim reports whether the turned box is far smaller than the upright one.
func (n *node) slim() bool {
	return 2*n.turned.Width()*n.turned.Height() < n.upright.Width()*n.upright.Height()
}

// gap returns the distance between two boxes.
func gap(a, b geometry.Box) float64 {
	x, y := between(a.Min.X, a.Max.X, b.Min.X, b.Max.X), between(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y)
	if x == 0 || y == 0 {
		return x + y
	}
	return math.Sqrt(x*x + y*y)
}

// between returns the length of what lies between two stretches of an axis.
func between(lo, hi, lo2, hi2 float64) float64 {
	if hi < lo2 {
		return lo2 - hi
	}
	if hi2 < lo {
		return lo - hi2
	}
	return 0
}

// each calls visit for the edges from…to−1 of every leaf that enter lets in with all
// boxes round it, until visit returns false. Each box and each edge is a step.
func (t *tree) each(b *budget.Budget, enter func(n *node) bool, visit func(from, to int32) bool) {
	var below [64]int32 // no tree of int32 edges is deeper
	for rest := append(below[:0], 0); len(t.nodes) > 0 && len(rest) > 0; {
		i := rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		n := &t.nodes[i]
		b.Step()
		switch {
		case !enter(n):
		case n.right > 0:
			rest = append(rest, n.right, i+1)
		default:
			b.Spend(int(n.to - n.from))
			if !visit(n.from, n.to) {
				return
			}
		}
	}
}

// selectNth puts the item of the nth smallest key in its place, those with
// smaller keys before it and those with larger after it (Hoare, 1961). It parts them
// about the middle one, and where that has taken far more steps than it takes by
// chance, about one of a row of chances that is always the same: of a ring that runs
// there and back the middle is the last, and again of what is left (Musser, 1997).
func selectNth(items []int32, keys []float64, nth int) {
	const enough = 8 // times the items; about the middle of such as are in no order it takes 3
	left, dice := enough*len(items), uint32(1)
	for lo, hi := 0, len(items)-1; lo < hi; {
		at := (lo + hi) / 2
		if left -= hi - lo; left < 0 {
			dice = dice*1664525 + 1013904223 // a linear congruential generator
			at = lo + int(uint64(dice)*uint64(hi-lo+1)>>32)
		}
		pivot := keys[items[at]]
		i, j := lo, hi
		for i <= j {
			for keys[items[i]] < pivot {
				i++
			}
			for keys[items[j]] > pivot {
				j--
			}
			if i <= j {
				items[i], items[j] = items[j], items[i]
				i++
				j--
			}
		}
		switch {
		case nth <= j:
			hi = j
		case nth >= i:
			lo = i
		default:
			return
		}
	}
}
