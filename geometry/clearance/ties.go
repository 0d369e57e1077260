package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
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
// Of lines of equal length, to a tenth of a nanometre, the one most along an
// axis is taken, and a level one before an upright one, so that the result does
// not depend on the order of the rings.
func (r *Region) Ties(b *budget.Budget) []Tie {
	t := tying{budget: b, r: r, group: newSets(r.Rings())}
	t.cut()
	if len(t.runs) == 0 {
		return nil
	}
	var ties []Tie
	reach := math.Sqrt(r.bounds.Width() * r.bounds.Height() / float64(len(t.runs)))
	reach = math.Max(reach, alike)
	for farthest := r.bounds.Min.Dist(r.bounds.Max); len(ties) < r.Rings()-1; {
		joined := false
		for _, c := range t.round(reach) {
			if c.ok && t.group.join(r.edges[c.edges[0]].ring, r.edges[c.edges[1]].ring) {
				ties = append(ties, c.Tie)
				joined = true
			}
		}
		if !joined {
			if reach > farthest {
				break
			}
			reach *= 2
		}
	}
	return ties
}

// run is a stretch of neighbouring edges with the box round them.
type run struct {
	box      geometry.Box
	from, to int // edges from…to−1
	ring     int
}

// gap returns the distance between two boxes.
func gap(a, b geometry.Box) float64 {
	x := math.Max(0, math.Max(b.Min.X-a.Max.X, a.Min.X-b.Max.X))
	y := math.Max(0, math.Max(b.Min.Y-a.Max.Y, a.Min.Y-b.Max.Y))
	return math.Hypot(x, y)
}

type tying struct {
	budget *budget.Budget
	r      *Region
	group  sets
	runs   []run // ordered from the left
}

// cut cuts the rings into runs of a few edges.
func (t *tying) cut() {
	const most = 8
	r := t.r
	for ring := range r.Rings() {
		for i := r.first[ring]; i < r.first[ring+1]; i += most {
			u := run{box: geometry.EmptyBox(), from: i, to: min(i+most, r.first[ring+1]), ring: ring}
			t.budget.Spend(u.to - u.from)
			for _, e := range r.edges[u.from:u.to] {
				u.box = u.box.Include(e.a).Include(e.b)
			}
			t.runs = append(t.runs, u)
		}
	}
	slices.SortStableFunc(t.runs, func(a, b run) int {
		t.budget.Step()
		return cmp.Compare(a.box.Min.X, b.box.Min.X)
	})
}

// round returns for every group, at the number of its root, the shortest line
// to another group, where that is no longer than reach. Pairs of runs come
// from a sweep along x.
func (t *tying) round(reach float64) []proposal {
	best := make([]proposal, t.r.Rings())
	groups := make([]int, len(t.runs))
	t.budget.Spend(len(t.runs))
	for i, u := range t.runs {
		groups[i] = t.group.find(u.ring)
	}
	for i := range t.runs {
		a := &t.runs[i]
		for j := i + 1; j < len(t.runs) && t.runs[j].box.Min.X-a.box.Max.X <= reach; j++ {
			t.budget.Step()
			b := &t.runs[j]
			if groups[i] == groups[j] || b.box.Min.Y-a.box.Max.Y > reach || a.box.Min.Y-b.box.Max.Y > reach {
				continue
			}
			p, q := &best[groups[i]], &best[groups[j]]
			limit := math.Max(p.limit(reach), q.limit(reach))
			if gap(a.box, b.box) > limit {
				continue
			}
			if c := t.between(a, b, limit); c.ok {
				p.improve(c)
				q.improve(c)
			}
		}
	}
	return best
}

// between returns the shortest line between two runs, no longer than limit.
func (t *tying) between(a, b *run, limit float64) proposal {
	var best proposal
	for i := a.from; i < a.to; i++ {
		e := &t.r.edges[i]
		box := geometry.BoxAround(e.a, e.b)
		if gap(box, b.box) > limit {
			continue
		}
		t.budget.Spend(b.to - b.from)
		for j := b.from; j < b.to; j++ {
			f := &t.r.edges[j]
			if gap(box, geometry.BoxAround(f.a, f.b)) > limit {
				continue
			}
			p := propose(e, f, i, j)
			if p.Length() <= limit && t.leaves(i, p.From, p.To) && t.leaves(j, p.To, p.From) {
				best.improve(p)
				limit = best.limit(limit)
			}
		}
	}
	return best
}

// leaves reports whether the line from a point of edge i to another point
// begins on the inside. A ring that runs along both sides of a cut passes it
// twice, and only one of the two faces the other end.
func (t *tying) leaves(i int, from, to geometry.Point) bool {
	r := t.r
	e := &r.edges[i]
	v := to.Sub(from)
	switch from {
	case to:
		return true
	case e.a:
		return within(e.dir, v, r.edges[r.prev(i)].dir.Mul(-1))
	case e.b:
		return within(r.edges[r.next(i)].dir, v, e.dir.Mul(-1))
	}
	return e.dir.Cross(v) > 0
}

// within reports whether v is met on the way anticlockwise from a to b.
func within(a, v, b geometry.Point) bool {
	angle := func(u geometry.Point) float64 {
		t := math.Atan2(a.Cross(u), a.Dot(u))
		if t <= 0 {
			t += 2 * math.Pi
		}
		return t
	}
	return angle(v) <= angle(b)
}

type proposal struct {
	Tie
	steps int64 // length in units of alike
	ok    bool
}

// limit returns the length beyond which no line can replace p: a little more
// than its own, because lines of equal length compete by their slant.
func (p *proposal) limit(reach float64) float64 {
	if !p.ok {
		return reach
	}
	return math.Min(reach, p.Length()+alike)
}

func (p *proposal) improve(q proposal) {
	if !p.ok || q.before(*p) {
		*p = q
	}
}

// alike is the difference in mm below which two lengths count as equal.
const alike = 1e-7

// before orders proposals: the shorter, then the straighter, then the more
// level, then by place.
func (p proposal) before(q proposal) bool {
	if p.steps != q.steps {
		return p.steps < q.steps
	}
	if c := cmp.Or(cmp.Compare(p.slant(), q.slant()), cmp.Compare(p.rise(), q.rise())); c != 0 {
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

// slant is how far the line strays from the nearer axis, in units of alike.
func (p proposal) slant() int64 {
	d := p.To.Sub(p.From)
	return int64(math.Round(math.Min(math.Abs(d.X), math.Abs(d.Y)) / alike))
}

// rise is how far the line runs along y, in units of alike.
func (p proposal) rise() int64 { return int64(math.Round(math.Abs(p.To.Y-p.From.Y) / alike)) }

// ends returns the coordinates of both ends, the lower left end first.
func (p proposal) ends() [4]float64 {
	a, b := p.From, p.To
	if b.X < a.X || (b.X == a.X && b.Y < a.Y) {
		a, b = b, a
	}
	return [4]float64{a.X, a.Y, b.X, b.Y}
}

// propose returns the shortest line between two edges that do not cross. One
// of its ends is an end of an edge, except between parallel edges, where it
// is put in the middle of where they face each other.
func propose(e, f *edge, i, j int) proposal {
	best := Tie{From: e.a, To: f.closest(e.a), edges: [2]int{i, j}}
	for _, c := range [3][2]geometry.Point{{e.b, f.closest(e.b)}, {e.closest(f.a), f.a}, {e.closest(f.b), f.b}} {
		if c[0].Dist(c[1]) < best.Length() {
			best.From, best.To = c[0], c[1]
		}
	}
	if mid, ok := facingMiddle(e, f); ok && mid[0].Dist(mid[1]) <= best.Length() {
		best.From, best.To = mid[0], mid[1]
	}
	return proposal{Tie: best, steps: int64(math.Round(best.Length() / alike)), ok: true}
}

// facingMiddle returns the line between the middles of the stretches where
// two edges of opposite direction run along each other, parallel to within
// rounding.
func facingMiddle(e, f *edge) ([2]geometry.Point, bool) {
	u := e.dir
	d := f.b.Sub(f.a)
	if math.Abs(u.Cross(d)) > 1e-12*d.Norm() {
		return [2]geometry.Point{}, false
	}
	s, t := u.Dot(f.a.Sub(e.a)), u.Dot(f.b.Sub(e.a))
	lo, hi := math.Max(0, math.Min(s, t)), math.Min(e.size, math.Max(s, t))
	if lo >= hi {
		return [2]geometry.Point{}, false
	}
	p := e.a.Add(u.Mul((lo + hi) / 2))
	return [2]geometry.Point{p, f.closest(p)}, true
}
