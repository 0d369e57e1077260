package clearance

import (
	"cmp"
	"math"

	"knifedesk/geometry"
)

// Tie is a straight line between two rings of a region, as short as any.
type Tie struct {
	From, To geometry.Point
	edges    [2]int // the edges on which it begins and ends
}

// Length returns the length of the tie in mm.
func (t Tie) Length() float64 { return t.From.Dist(t.To) }

// Ties returns lines that join all the rings into one: the shortest spanning
// tree over the shortest distances between rings, found by Borůvka's rounds.
//
// The lines of such a tree are clear by themselves. A shortest line between
// two rings stays as far from either as from the end on it. If it came nearer
// to a third ring than to one of its own ends, that ring would be nearer to
// both than they are to each other, and the tree would go by way of it. Hence
// beyond a length c from its ends a tie keeps c off every ring.
//
// Of lines of equal length, to the grid of 0.1 µm, the one most along an axis
// is taken, so that the result does not depend on the order of the rings.
func (r *Region) Ties() []Tie {
	t := tying{r: r, group: newSets(r.Rings()), near: make([]float64, len(r.edges))}
	var ties []Tie
	for {
		found := t.round()
		joined := false
		for ring := range found {
			c := found[ring]
			if c.ok && t.group.join(r.edges[c.edges[0]].ring, r.edges[c.edges[1]].ring) {
				ties = append(ties, c.Tie)
				joined = true
			}
		}
		if !joined {
			return ties
		}
	}
}

type tying struct {
	r     *Region
	group sets
	near  []float64 // by edge: no edge of another group is nearer
}

type proposal struct {
	Tie
	steps int64 // length in grid steps of 0.1 µm
	ok    bool
}

// round returns for every group, at the number of its root, the shortest line
// to another group.
func (t *tying) round() []proposal {
	r := t.r
	best := make([]proposal, r.Rings())
	for _, i := range t.seeds() {
		if i >= 0 {
			t.propose(i, best)
		}
	}
	for i := range r.edges {
		t.propose(i, best)
	}
	return best
}

// seeds returns for every group the edge most likely to be near another, so
// that the search from the others is short.
func (t *tying) seeds() []int {
	seeds := make([]int, t.r.Rings())
	for i := range seeds {
		seeds[i] = -1
	}
	for i, e := range t.r.edges {
		g := t.group.find(e.ring)
		if seeds[g] < 0 || t.near[i] < t.near[seeds[g]] {
			seeds[g] = i
		}
	}
	return seeds
}

func (t *tying) propose(i int, best []proposal) {
	g := t.group.find(t.r.edges[i].ring)
	limit := math.Inf(1)
	if best[g].ok {
		limit = best[g].Length() + gridStep
	}
	if t.near[i] > limit {
		return
	}
	p := t.nearestOther(i, limit)
	if !p.ok {
		t.near[i] = limit
		return
	}
	t.near[i] = p.Length()
	if !best[g].ok || p.before(best[g]) {
		best[g] = p
	}
}

// gridStep is the grid of the planar map in mm; lengths within a step of each
// other count as equal.
const gridStep = 1e-4

// before orders proposals: the shorter, then the straighter, then by place.
func (p proposal) before(q proposal) bool {
	if p.steps != q.steps {
		return p.steps < q.steps
	}
	if c := cmp.Compare(p.slant(), q.slant()); c != 0 {
		return c < 0
	}
	a, b := p.ends(), q.ends()
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// slant is how far the line strays from the nearer axis, in grid steps.
func (p proposal) slant() int64 {
	d := p.To.Sub(p.From)
	return int64(math.Round(math.Min(math.Abs(d.X), math.Abs(d.Y)) / gridStep))
}

// ends returns the coordinates of both ends, the lower left end first.
func (p proposal) ends() [4]float64 {
	a, b := p.From, p.To
	if b.X < a.X || (b.X == a.X && b.Y < a.Y) {
		a, b = b, a
	}
	return [4]float64{a.X, a.Y, b.X, b.Y}
}

// nearestOther looks in a growing window round edge i for the nearest edge of
// another group.
func (t *tying) nearestOther(i int, limit float64) proposal {
	r := t.r
	g := &r.grid
	own := r.edges[i]
	group := t.group.find(own.ring)
	box := geometry.BoxAround(own.a, own.b)
	var best proposal
	for grow := g.cell; ; grow *= 2 {
		w := box.Grow(math.Min(grow, limit))
		c0, c1, r0, r1 := g.col(w.Min.X), g.col(w.Max.X), g.row(w.Min.Y), g.row(w.Max.Y)
		for row := r0; row <= r1; row++ {
			for col := c0; col <= c1; col++ {
				for _, j := range g.at(col, row) {
					e := r.edges[j]
					if e.ring == own.ring || t.group.find(e.ring) == group {
						continue
					}
					if boxGap(box, e) > limit {
						continue
					}
					p := propose(own, e, i, int(j))
					if p.Length() <= limit && (!best.ok || p.before(best)) {
						best, limit = p, math.Min(limit, p.Length()+gridStep)
					}
				}
			}
		}
		whole := c0 == 0 && r0 == 0 && c1 == g.cols-1 && r1 == g.rows-1
		if grow >= limit || whole {
			return best
		}
	}
}

// boxGap returns a lower bound of the distance from box to e.
func boxGap(box geometry.Box, e edge) float64 {
	x := math.Max(math.Min(e.a.X, e.b.X)-box.Max.X, box.Min.X-math.Max(e.a.X, e.b.X))
	y := math.Max(math.Min(e.a.Y, e.b.Y)-box.Max.Y, box.Min.Y-math.Max(e.a.Y, e.b.Y))
	return math.Max(0, math.Max(x, y))
}

// propose returns the shortest line between two edges that do not cross. One
// of its ends is an end of an edge, except between parallel edges, where it
// is put in the middle of where they face each other.
func propose(e, f edge, i, j int) proposal {
	best := Tie{From: e.a, To: f.closest(e.a), edges: [2]int{i, j}}
	for _, c := range [3][2]geometry.Point{{e.b, f.closest(e.b)}, {e.closest(f.a), f.a}, {e.closest(f.b), f.b}} {
		if c[0].Dist(c[1]) < best.Length() {
			best.From, best.To = c[0], c[1]
		}
	}
	if mid, ok := facingMiddle(e, f); ok && mid[0].Dist(mid[1]) <= best.Length() {
		best.From, best.To = mid[0], mid[1]
	}
	return proposal{Tie: best, steps: int64(math.Round(best.Length() / gridStep)), ok: true}
}

// facingMiddle returns the line between the middles of the stretches where
// two edges of opposite direction run along each other, parallel to within
// rounding.
func facingMiddle(e, f edge) ([2]geometry.Point, bool) {
	u := e.dir()
	d := f.b.Sub(f.a)
	if math.Abs(u.Cross(d)) > 1e-12*d.Norm() {
		return [2]geometry.Point{}, false
	}
	s, t := u.Dot(f.a.Sub(e.a)), u.Dot(f.b.Sub(e.a))
	lo, hi := math.Max(0, math.Min(s, t)), math.Min(e.length(), math.Max(s, t))
	if lo >= hi {
		return [2]geometry.Point{}, false
	}
	p := e.a.Add(u.Mul((lo + hi) / 2))
	return [2]geometry.Point{p, f.closest(p)}, true
}
