package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// site is a place on the boundary with a direction into the region.
type site struct {
	at     geometry.Point
	normal geometry.Point // unit, into the region
	edge   int            // the edge that carries it
	edge2  int            // the other edge at a corner, else -1
	along  float64        // length along the ring up to it
	share  float64        // length of the boundary that it stands for
}

// ball is a circle that touches the boundary at a site and holds no part of
// the boundary: a point of the medial axis, where it touches a second side.
type ball struct {
	centre geometry.Point
	radius float64
	foot   Foot // the second side; none where the ball was as large as allowed
	two    bool // it touches a second side
}

// shrinking is a ball at a site that shrinks until it holds no part of the
// boundary (the shrinking ball of Ma, Bae and Choi, 2012, here against edges
// instead of samples). Balls at one site lie in each other, so that an edge that was
// once outside stays outside, and one walk through the tree is enough.
type shrinking struct {
	ball
	site
	edges []edge
	floor float64 // a ball no larger than this is of no interest
	steps int
}

// slack is the share of its radius by which a ball may overlap what it touches.
const slack = 1e-9

// largest returns the largest empty ball that touches the boundary at s and
// is no larger than limit, or some ball no larger than floor where that one is not
// either. The edge hint, if it is one, is looked at first: a good one spares the
// search most of what a ball of the size of the limit meets. last is where the ball before
// was looked for.
func (r *Region) largest(b *budget.Budget, s site, limit, floor float64, hint int, last *nearby) ball {
	g := shrinking{site: s, edges: r.edges, floor: floor}
	g.resize(limit)
	if hint >= 0 {
		g.meet(int32(hint))
	}
	if r.tree.oneLeaf() {
		g.meetAll()
	} else {
		g.descend(&r.tree, last.about(&r.tree, s.at, 2*g.radius))
	}
	b.Spend(g.steps)
	return g.ball
}

func (g *shrinking) resize(radius float64) {
	g.radius = radius
	g.centre = geometry.Point{X: g.at.X + g.normal.X*radius, Y: g.at.Y + g.normal.Y*radius}
}

// meetAll shrinks the ball by every edge, those after its own first.
func (g *shrinking) meetAll() {
	g.steps += len(g.edges)
	n, own := int32(len(g.edges)), int32(g.edge)
	for i := own + 1; i < n && g.radius > g.floor; i++ {
		g.meet(i)
	}
	for i := own - 1; i >= 0 && g.radius > g.floor; i-- {
		g.meet(i)
	}
}

// descend shrinks the ball by the edges of the leaves below a box that it reaches, those near
// the site first: they shrink it most. Mostly it reaches one of two boxes alone; the
// farther of two that it reaches is looked at again when it has shrunk.
func (g *shrinking) descend(t *tree, from int32) {
	var below [64]int32 // no tree of int32 edges is deeper
	g.steps++
	for rest := append(below[:0], from); len(rest) > 0 && g.radius > g.floor; {
		i := rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		within := g.radius * g.radius * (1 + 4*slack)
		for reached := t.nodes[i].meets(g.centre, within); reached; {
			n := &t.nodes[i]
			if n.right == 0 {
				g.steps += int(n.to - n.from)
				for e := n.from; e < n.to; e++ {
					g.meet(e)
				}
				break
			}
			g.steps += 2
			near, far := i+1, n.right
			nearer, farther := &t.nodes[near], &t.nodes[far]
			reached = nearer.meets(g.centre, within)
			switch also := farther.meets(g.centre, within); {
			case reached && also:
				if farther.apart(g.at) < nearer.apart(g.at) {
					near, far = far, near
				}
				rest = append(rest, far)
			case also:
				near, reached = far, true
			}
			i = near
		}
	}
}

// meets reports whether the turned box comes within the root of a square of p: it
// is apart at most that, told from the longer way along the box alone where that is enough.
func (n *node) meets(p geometry.Point, square float64) bool {
	x := n.dir.X*p.X + n.dir.Y*p.Y
	dx := beyond(x, n.turned.Min.X, n.turned.Max.X)
	if dx *= dx; dx > square {
		return false
	}
	y := n.dir.X*p.Y - n.dir.Y*p.X
	dy := beyond(y, n.turned.Min.Y, n.turned.Max.Y)
	return dx+dy*dy <= square
}

// meet shrinks the ball until it does not hold any of edge i. Of two that it
// touches, the foot lies on that which faces the site more, and else on the first.
func (g *shrinking) meet(i int32) {
	if int(i) == g.edge || int(i) == g.edge2 {
		return
	}
	e := &g.edges[i]
	if off := e.dir.X*(g.centre.Y-e.a.Y) - e.dir.Y*(g.centre.X-e.a.X); off*off > g.radius*g.radius*(1+4*slack) {
		return // so far off the line of the edge is no point of it nearer
	}
	q := e.closest(g.centre)
	d := squared(q.X-g.centre.X, q.Y-g.centre.Y)
	if d > g.radius*g.radius*(1+2*slack) {
		return
	}
	shrunk := false
	const steps = 60
	for k := 0; k < steps && d < g.radius*g.radius*(1-2*slack); k++ {
		reach := q.Sub(g.at)
		towards := g.normal.Dot(reach)
		if towards <= 0 {
			g.ball = ball{centre: g.at, foot: Foot{Point: q, edge: int(i)}, two: true}
			return
		}
		g.resize(min(g.radius, reach.Dot(reach)/(2*towards)))
		q = e.closest(g.centre)
		d, shrunk = squared(q.X-g.centre.X, q.Y-g.centre.Y), true
	}
	if shrunk || g.two && g.faces(q, i) {
		g.foot, g.two = Foot{Point: q, Dist: g.radius, edge: int(i)}, true
	}
}

// faces reports whether a point of edge i, which the ball touches, lies more
// opposite to the site than its foot does.
func (g *shrinking) faces(q geometry.Point, i int32) bool {
	more := g.normal.Dot(q.Sub(g.foot.Point))
	if math.Abs(more) <= 1e-6*g.radius {
		return int(i) < g.foot.edge
	}
	return more > 0
}

// squared returns the square of the length of a vector.
func squared(x, y float64) float64 { return x*x + y*y }

// onEdge returns the site at the fraction t of edge i, which begins at the
// length along of its ring.
func (r *Region) onEdge(i int, t, along float64) site {
	e := r.edges[i]
	return site{at: e.a.Lerp(e.b, t), normal: e.dir.Perp(), edge: i, edge2: -1, along: along + t*e.size}
}

// atCorner returns the site at the start of edge i whose normal is that of
// the edge p before it, turned by angle.
func (r *Region) atCorner(i, p int, angle, along float64) site {
	n := r.edges[p].dir.Perp()
	sin, cos := math.Sincos(angle)
	n = geometry.Pt(n.X*cos-n.Y*sin, n.X*sin+n.Y*cos)
	return site{at: r.edges[i].a, normal: n, edge: i, edge2: p, along: along}
}

// turn returns the angle by which the boundary turns at the start of edge i:
// positive at corners that stick out, negative at those that point inwards.
func (r *Region) turn(i int) float64 {
	d, e := r.edges[r.prev(i)].dir, r.edges[i].dir
	return math.Atan2(d.Cross(e), d.Dot(e))
}
