package clearance

import (
	"math"
	"slices"

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

// facing is the cosine of the angle by which two sides that face each other may converge.
const facing = 0.9063077870366499 // math.Cos(sharpDeg * math.Pi / 180), which is no constant

// Measure returns the pole of the region, to a fiftieth of its radius or as
// near as a fixed number of steps allows, its least local width and its necks
// narrower than limit mm. Stretches below finer limits, which are at most limit,
// and come from the largest to the smallest, are gathered each by itself: a long
// narrow one may hold a short narrower one.
//
// The local width at a place of the boundary is the diameter of the largest
// circle inside that touches the boundary there. It counts where the circle
// touches a second side that faces the first: the two sides may converge by
// less than 25°, and they must not be the two sides of one corner.
func (r *Region) Measure(b *budget.Budget, limit float64, finer ...float64) Shape {
	m := measure{budget: b, r: r, limit: limit, sides: newSides(b, r), hint: -1}
	m.spacing = m.pitch()
	if m.convex = r.convex(m.sides.turns); m.convex && len(r.edges) <= mostTried {
		m.best = convexRegion{r}.pole()
	}
	m.strictly = m.convex && slices.Min(m.sides.turns) > straight
	m.poled = m.best.Radius > 0 || len(r.edges) < 3
	m.eachRow(m.measureRow)
	if !m.poled {
		m.pole()
	}
	m.widths()
	t := stretches{measure: &m, places: m.narrow}
	s := Shape{Pole: m.best, Least: m.least, Necks: t.below(limit)}
	for _, limit := range finer {
		s.Finer = append(s.Finer, t.below(limit))
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
	return max(area/length, length/float64(sites))
}

type measure struct {
	budget   *budget.Budget
	r        *Region
	limit    float64
	spacing  float64
	sides    sides
	convex   bool
	strictly bool // it is convex, and turns at every corner
	poled    bool // no larger circle than the best need be looked for
	hint     int  // the edge that the last ball touched, -1 at first
	last     nearby
	best     Pole
	least    *Neck
	narrow   []narrow

	candidates candidates
}

// measureRow takes in the largest balls at the sites of a row, for the least width,
// the narrow places and the pole: only those wider than what the widths want to know of
// are looked at again for that, and only where a circle larger than the best fits.
func (m *measure) measureRow(w row) {
	widths := !m.convex || (convexRegion{m.r}).facing(w.edge) > 0
	if !widths && m.poled {
		return
	}
	stretch := m.noteStretch
	if !widths {
		stretch = nil
	}
	m.take(w, m.reach(), func(s site, b ball) {
		if widths {
			m.note(s, b)
		}
		if !m.poled {
			m.improve(s, b)
		}
	}, stretch)
}

// improve takes the largest ball at s for the pole where it is the largest yet. b is
// that ball, or one as large as was asked for.
func (m *measure) improve(s site, b ball) {
	least := m.best.Radius * (1 + 1e-6)
	if !b.two {
		if limit := m.r.widest(); b.radius < limit && m.mayBe(s, least, b.radius) {
			b = m.larger(s, limit, least)
		}
	}
	if b.two && b.radius > least && m.r.Inside(m.budget, b.centre) {
		m.best = Pole{Centre: b.centre, Radius: b.radius}
	}
}

// mayBe reports whether the largest ball at s, of which one of a radius is known to be
// empty, may be larger than another radius.
func (m *measure) mayBe(s site, radius, empty float64) bool {
	if radius <= empty {
		return true
	}
	b := m.larger(s, radius*(1+slack), radius)
	return !b.two || b.radius > radius
}

// pole lets the search by squares improve the largest of the balls at the sites, and
// bound it.
func (m *measure) pole() {
	if foot, ok := m.r.Nearest(m.budget, m.best.Centre, math.Inf(1)); ok && m.best.Radius > 0 {
		m.best.Radius = foot.Dist // what is claimed is what was measured
	}
	const squares = 120
	search := poleSearch{budget: m.budget, r: m.r, best: m.best, convex: m.strictly}
	m.best = search.run(m.best.Radius/50, squares)
}

// widths finds the least local width among the balls that were the smallest.
func (m *measure) widths() {
	if m.best.Radius == 0 {
		m.narrow = nil
		return
	}
	for _, c := range m.candidates.kept {
		b := m.refine(c.site, c.ball)
		if m.least == nil || 2*b.radius < m.least.WidthMM {
			m.least = &Neck{At: b.centre, WidthMM: 2 * b.radius, Box: geometry.BoxAround(b.centre)}
		}
	}
}

// reach returns the largest radius that still matters to the widths: circles wider than
// both the limit and the least width so far are of no interest.
func (m *measure) reach() float64 {
	reach := m.r.widest()
	if m.poled {
		reach = m.best.Radius*1.01 + m.best.Gap
	}
	if worst, full := m.candidates.worst(); full {
		reach = min(reach, max(worst, m.limit/2))
	}
	return reach
}

// faced returns the ball at s when it touches two sides that face each other.
func (m *measure) faced(s site, limit float64) (ball, bool) {
	b := m.largest(s, limit)
	return b, m.faces(s, b)
}

// largest returns the largest ball at s of up to a radius.
func (m *measure) largest(s site, limit float64) ball { return m.larger(s, limit, 0) }

// larger returns the largest ball at s of up to a radius, or some ball no larger
// than floor. What the last ball touched is where most balls beside it end too.
func (m *measure) larger(s site, limit, floor float64) ball {
	if m.strictly {
		return convexRegion{m.r}.largest(m.budget, s, limit)
	}
	b := m.r.largest(m.budget, s, limit, floor, m.hint, &m.last)
	if b.two {
		m.hint = b.foot.edge
	}
	return b
}

// faces reports whether the largest ball at s touches a second side that faces
// the first.
func (m *measure) faces(s site, b ball) bool {
	if !b.two || b.radius <= 0 {
		return false
	}
	return s.normal.Dot(b.foot.Point.Sub(b.centre)) >= facing*b.radius && !m.sides.sameCorner(s, b.foot)
}
