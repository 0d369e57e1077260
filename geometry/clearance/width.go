package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Shape is how wide a region is.
type Shape struct {
	Pole Pole
	// Least is the narrowest place; nil where no circle touches two sides.
	Least *Neck
	// Necks are the stretches narrower than the limit asked for, along the
	// boundary. Both sides of a stretch are one neck.
	Necks []Neck
	// Finer are the stretches narrower than each of the finer limits.
	Finer [][]Neck
}

// Neck is a stretch where the region is narrow: below the limit along its whole
// length, so that its mean width is AreaMM2/LengthMM.
type Neck struct {
	At       geometry.Point // the middle of its narrowest circle
	WidthMM  float64        // the circle's diameter
	LengthMM float64        // of the stretch below the limit
	AreaMM2  float64        // of that stretch
	Box      geometry.Box   // of the circles' middles
}

// sharpDeg is the angle below which two sides that meet are one sharp corner
// and not a strip with a width, in degrees: the kept angle that lifts.
const sharpDeg = 25

// Measure returns the pole of the region, to a fiftieth of its radius or as
// near as a fixed number of steps allows, its least local width and its necks
// narrower than limit mm. Stretches below finer limits, which are at most limit,
// are gathered each by itself: a long narrow one may hold a short narrower one.
//
// The local width at a place of the boundary is the diameter of the largest
// circle inside that touches the boundary there. It counts where the circle
// touches a second side that faces the first: the two sides may converge by
// less than 25°, and they must not be the two sides of one corner.
func (r *Region) Measure(b *budget.Budget, limit float64, finer ...float64) Shape {
	m := measure{budget: b, r: r, limit: limit, sides: newSides(b, r)}
	m.spacing = m.pitch()
	m.pole()
	m.widths()
	s := Shape{Pole: m.best, Least: m.least, Necks: m.necks(limit)}
	for _, below := range finer {
		s.Finer = append(s.Finer, m.necks(below))
	}
	return s
}

// pitch returns the distance between sites on long edges: half the mean
// width of a strip with the region's area and perimeter, at most 2,000 of
// them on the whole boundary, and fewer where few edges make it: between two
// straight ones the width changes evenly, and corners have sites of their own.
func (m *measure) pitch() float64 {
	r := m.r
	area, length := 0.0, r.Length()
	for _, e := range r.edges {
		area += e.a.Sub(r.bounds.Min).Cross(e.b.Sub(r.bounds.Min)) / 2
	}
	if length == 0 {
		return 1
	}
	sites := min(2000, 400+10*len(r.edges))
	return math.Max(area/length, length/float64(sites))
}

type measure struct {
	budget  *budget.Budget
	r       *Region
	limit   float64
	spacing float64
	sides   sides
	best    Pole
	least   *Neck
	narrow  []narrowPlace

	candidates candidates
}

// narrowPlace is one circle narrower than the limit.
type narrowPlace struct {
	centre geometry.Point
	width  float64
	share  float64 // of the boundary's length, that the site stands for
}

// pole takes the largest of the balls at the sites and lets the search by
// squares improve and bound it. A site is worth a ball only if a circle
// larger than the best so far fits there.
func (m *measure) pole() {
	r := m.r
	if len(r.edges) < 3 {
		return
	}
	limit := math.Max(r.bounds.Width(), r.bounds.Height())
	r.eachRow(m.budget, m.spacing, func(w row) {
		if w.count >= longRow {
			m.take(w, limit, m.improve)
			return
		}
		for k := range w.count {
			s := r.site(w, k)
			if reach := m.best.Radius * (1 + 1e-6); reach > 0 {
				if _, hit := r.blocked(m.budget, s, reach); hit {
					continue
				}
			}
			m.improve(s, r.largest(m.budget, s, limit))
		}
	})
	if foot, ok := r.Nearest(m.budget, m.best.Centre, math.Inf(1)); ok && m.best.Radius > 0 {
		m.best.Radius = foot.Dist // what is claimed is what was measured
	}
	const squares = 120
	search := poleSearch{budget: m.budget, r: r, best: m.best}
	m.best = search.run(m.best.Radius/50, squares)
}

// longRow is from how many sites of a row on it costs less to measure some of
// their balls than to ask of each whether it could be larger than the best.
const longRow = 8

// improve takes the largest ball at s for the pole where it is the largest yet.
func (m *measure) improve(s site, b ball) {
	if b.two && b.radius > m.best.Radius*(1+1e-6) && m.r.Inside(m.budget, b.centre) {
		m.best = Pole{Centre: b.centre, Radius: b.radius}
	}
}

// widths finds the least local width and the places below the limit. Circles
// wider than both the limit and the least width so far are of no interest.
func (m *measure) widths() {
	if m.best.Radius == 0 {
		return
	}
	m.r.eachRow(m.budget, m.spacing, func(w row) { m.take(w, m.reach(), m.note) })
	for _, c := range m.candidates.kept {
		b := m.refine(c.site, c.ball)
		if m.least == nil || 2*b.radius < m.least.WidthMM {
			m.least = &Neck{At: b.centre, WidthMM: 2 * b.radius, Box: geometry.BoxAround(b.centre)}
		}
	}
}

// note takes the largest ball at s in.
func (m *measure) note(s site, b ball) {
	if !m.faces(s, b) || b.radius > m.reach() {
		return
	}
	if 2*b.radius < m.limit {
		m.narrow = append(m.narrow, narrowPlace{b.centre, 2 * b.radius, s.share})
	}
	m.candidates.offer(s, b)
}

// reach returns the largest radius that still matters.
func (m *measure) reach() float64 {
	reach := m.best.Radius*1.01 + m.best.Gap
	if worst, full := m.candidates.worst(); full {
		reach = math.Min(reach, math.Max(worst, m.limit/2))
	}
	return reach
}

// faced returns the ball at s when it touches two sides that face each other.
func (m *measure) faced(s site, limit float64) (ball, bool) {
	b := m.r.largest(m.budget, s, limit)
	return b, m.faces(s, b)
}

// faces reports whether the largest ball at s touches a second side that faces
// the first.
func (m *measure) faces(s site, b ball) bool {
	if !b.two || b.radius == 0 {
		return false
	}
	u := s.at.Sub(b.centre).Unit()
	v := b.foot.Point.Sub(b.centre).Unit()
	const facing = sharpDeg * math.Pi / 180
	return u.Dot(v) <= -math.Cos(facing) && !m.sides.sameCorner(s, b.foot)
}

// refine moves s to the neighbouring edge as long as the ball shrinks, and
// then both ways along its edge as far as the next site, or turns it at its
// corner, to where the ball is smallest.
func (m *measure) refine(s site, b ball) ball {
	r := m.r
	s, b = m.descend(s, b)
	if s.edge2 >= 0 {
		turn := r.turn(s.edge)
		n := r.edges[s.edge2].dir.Perp()
		at := math.Atan2(n.Cross(s.normal), n.Dot(s.normal)) / turn
		move := func(to float64) func(float64) site {
			return func(t float64) site { return r.atCorner(s.edge, s.edge2, (at+t*(to-at))*turn, s.along) }
		}
		return m.golden(move(1), 1-at, m.golden(move(0), at, b))
	}
	e := r.edges[s.edge]
	length, from := e.size, s.at.Dist(e.a)
	move := func(by float64) func(float64) site {
		to := math.Max(0, math.Min(length, from+by))
		return func(t float64) site { return r.onEdge(s.edge, (from+t*(to-from))/length, s.along-from) }
	}
	return m.golden(move(m.spacing), m.spacing, m.golden(move(-m.spacing), m.spacing, b))
}

// descend steps from the middle of one edge to the next.
func (m *measure) descend(s site, b ball) (site, ball) {
	const most = 50
	for _, step := range [2]func(int) int{m.r.next, m.r.prev} {
		for range most {
			if s.edge2 >= 0 {
				return s, b
			}
			i := step(s.edge)
			t := m.r.onEdge(i, 0.5, m.sides.start[i])
			c, ok := m.faced(t, b.radius*1.01)
			if !ok || c.radius >= b.radius {
				break
			}
			s, b = t, c
		}
	}
	return s, b
}

// golden returns the smallest faced ball that a golden section search over
// t in [0,1] meets, b included. Where no faced ball is found it looks nearer
// to 0, where b was. The interval stands for span mm, or a fan of that share,
// and is narrowed down to a hundredth.
func (m *measure) golden(move func(float64) site, span float64, b ball) ball {
	radius := func(t float64) float64 {
		c, ok := m.faced(move(t), b.radius*1.2)
		if !ok {
			return math.Inf(1)
		}
		if c.radius < b.radius {
			b = c
		}
		return c.radius
	}
	const ratio, close = 0.6180339887498949, 0.01
	lo, hi := 0.0, 1.0
	t, u := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	ft, fu := radius(t), radius(u)
	for (hi-lo)*span > close {
		if ft <= fu {
			hi, u, fu = u, t, ft
			t = hi - ratio*(hi-lo)
			ft = radius(t)
		} else {
			lo, t, ft = t, u, fu
			u = lo + ratio*(hi-lo)
			fu = radius(u)
		}
	}
	return b
}
