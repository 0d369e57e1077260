package clearance

import "math"

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
			t := m.r.onEdge(i, 0.5, m.r.edges[i].along)
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
	if c, ok := m.evenly(move(1), b); ok {
		return c
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

// evenly returns the smaller of a faced ball and the one at a site on the same edge
// where it is plain that between them the width changes evenly, or grows until the
// balls face nothing.
func (m *measure) evenly(end site, b ball) (ball, bool) {
	if end.edge2 >= 0 || m.r.Rings() > 1 {
		return b, false
	}
	if m.convex && (convexRegion{m.r}).facing(end.edge) == 1 && touching(m.r, end, b.foot.edge).radius >= b.radius*(1-slack) {
		return b, true
	}
	c, ok := m.faced(end, m.r.widest())
	if !ok || !m.r.onOne(b.foot, c.foot, -1e-9) {
		return b, false
	}
	if c.radius < b.radius {
		return c, true
	}
	return b, true
}
