package clearance

import (
	"math"

	"knifedesk/geometry"
)

// row is evenly spread sites: along one edge, or at the corner where it begins.
type row struct {
	edge, edge2 int     // as of its sites
	count       int     // of sites, at least 1
	along       float64 // length along the ring at the start of the edge
	share       float64 // length of the boundary that each site stands for
	turn        float64 // of a corner
}

// site returns the k-th site of w.
func (r *Region) site(w row, k int) site {
	t := (float64(k) + 0.5) / float64(w.count)
	if w.edge2 >= 0 {
		return r.atCorner(w.edge, w.edge2, t*w.turn, w.along)
	}
	s := r.onEdge(w.edge, t, w.along)
	s.share = w.share
	return s
}

// eachRow visits the sites from which local widths are taken: about every
// spacing along the edges, at the middles of short ones, and fanned out at
// every corner that points into the region by more than 10°.
func (m *measure) eachRow(f func(row)) {
	r := m.r
	for ring := range r.Rings() {
		since := m.spacing // length since the last site
		for i := r.first[ring]; i < r.first[ring+1]; i++ {
			m.budget.Step()
			if w := m.fan(i); w.count > 0 {
				f(w)
			}
			size := r.edges[i].size
			if since += size; since >= m.spacing/2 {
				n := max(1, min(math.Ceil(size/m.spacing), 1e6))
				f(row{edge: i, edge2: -1, count: int(n), along: r.edges[i].along, share: since / n})
				since = 0
			}
		}
	}
}

// fan returns the sites at the start of edge i; none where the boundary does not turn
// away from the inside.
func (m *measure) fan(i int) row {
	p := m.r.prev(i)
	d, e := m.r.edges[p].dir, m.r.edges[i].dir
	const each = math.Pi / 18
	if d.Cross(e) > -math.Sin(each) && d.Dot(e) > 0 {
		return row{} // the middles of the edges beside it do
	}
	turn := m.sides.turns[i]
	if turn >= 0 {
		return row{}
	}
	return row{edge: i, edge2: p, count: int(math.Ceil(-turn / each)), along: m.r.edges[i].along, turn: turn}
}

// take hands on the largest balls of up to a radius at the sites of a row, in
// their order. Where those at two sites touch the same second edge, and that
// inside its ends, those between touch it too and are not looked for:
//
//	──────────────────────────
//	    (  )            (  )       nothing comes between the edges but through
//	  ────────────────────────     one of the two balls, which are empty
//
// n sites cost O(c log n) searches where the side that faces them changes c
// times. Those between are handed on as a stretch, by the sites before and after it
// and the edge that they touch, or not at all where no stretch is wanted.
func (m *measure) take(w row, limit float64, next func(site, ball), stretch func(w row, before, after, touched int)) {
	s := m.r.site(w, 0)
	a := m.largest(s, limit)
	next(s, a)
	if last := w.count - 1; last > 0 {
		s = m.r.site(w, last)
		z := m.largest(s, limit)
		t := taking{m, w, limit, next, stretch}
		t.between(0, last, a, z)
		next(s, z)
	}
}

// taking is a row being taken.
type taking struct {
	*measure
	row
	limit   float64
	next    func(site, ball)
	stretch func(w row, before, after, touched int)
}

// between hands on the balls at the sites between lo and hi, whose balls are a
// and z.
func (t *taking) between(lo, hi int, a, z ball) {
	if hi-lo < 2 {
		return
	}
	if t.sameSides(t.row, a, z) {
		if t.stretch != nil {
			t.stretch(t.row, lo, hi, a.foot.edge)
		}
		return
	}
	mid := (lo + hi) / 2
	s := t.r.site(t.row, mid)
	b := t.largest(s, t.limit)
	t.between(lo, mid, a, b)
	t.next(s, b)
	t.between(mid, hi, b, z)
}

// sameSides reports whether two balls of a row touch one other edge, both
// inside its ends, and no other ring can lie between the balls.
func (m *measure) sameSides(w row, a, z ball) bool {
	if !a.two || !z.two || a.radius == 0 || z.radius == 0 {
		return false
	}
	f := &m.r.edges[a.foot.edge]
	rings := 1
	if m.r.edges[w.edge].ring != f.ring {
		rings = 2
	}
	return rings == m.r.Rings() && m.r.onOne(a.foot, z.foot, 0)
}

// onOne reports whether two feet lie on one edge, farther inside its ends than
// margin.
func (r *Region) onOne(a, z Foot, margin float64) bool {
	f := &r.edges[a.edge]
	inside := func(p geometry.Point) bool {
		along := p.Sub(f.a).Dot(f.dir)
		return along > margin && along < f.size-margin
	}
	return a.edge == z.edge && inside(a.Point) && inside(z.Point)
}

// touching returns the circle that touches the boundary at s and the line of
// edge i. Its middle c = s + r·n lies r from the line, which is d from s and has
// the normal m into the region: d + r·n·m = r.
func touching(r *Region, s site, i int) ball {
	f := &r.edges[i]
	normal := f.dir.Perp()
	radius := s.at.Sub(f.a).Dot(normal) / (1 - s.normal.Dot(normal))
	c := s.at.Add(s.normal.Mul(radius))
	return ball{centre: c, radius: radius, foot: Foot{Point: c.Sub(normal.Mul(radius)), Dist: radius, edge: i}, two: true}
}
