package dxf

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// tracer builds the path of one entity in memory that it uses again.
type tracer struct {
	b         *budget.Budget
	start, at geometry.Point
	segs      []geometry.Segment
	closed    bool
	coarse    bool // a curve was followed less closely than promised
}

func (t *tracer) move(p geometry.Point) {
	t.start, t.at, t.segs, t.closed, t.coarse = p, p, t.segs[:0], false, false
}

// add appends a segment, unless it goes nowhere.
func (t *tracer) add(s geometry.Segment) {
	if s.End == t.at && (s.Kind != geometry.Cubic || s.C1 == t.at && s.C2 == t.at) {
		return
	}
	t.segs = append(t.segs, s)
	t.at = s.End
}

// path returns what was traced. It is valid until the next move.
func (t *tracer) path() geometry.Path {
	return geometry.Path{Start: t.start, Segments: t.segs, Closed: t.closed}
}

// finish ends the path: closed where it was drawn so, or ends where it began.
func (t *tracer) finish(closed bool) {
	if closed && t.at != t.start {
		t.add(geometry.LineTo(t.start))
	}
	t.closed = t.at == t.start
}

// bounded reports whether all coordinates are within maxNumber; radii and the
// scales of inserts can carry them beyond.
func (t *tracer) bounded() bool {
	in := func(p geometry.Point) bool { return math.Abs(p.X) <= maxNumber && math.Abs(p.Y) <= maxNumber }
	ok := in(t.start)
	for i := range t.segs {
		s := &t.segs[i]
		ok = ok && in(s.End) && in(s.C1) && in(s.C2)
	}
	return ok
}

// snap moves the end of the path onto its start where rounding alone has kept
// them apart.
func (t *tracer) snap() {
	if len(t.segs) == 0 {
		return
	}
	b := geometry.BoxAround(t.start)
	for i := range t.segs {
		b = b.Include(t.segs[i].End)
	}
	const slack = 1e-12
	if t.at.Dist(t.start) <= slack*(b.Width()+b.Height()) {
		t.segs[len(t.segs)-1].End = t.start
		t.at = t.start
	}
}

// traceEntity traces e under the placement m. It returns the code that
// says why nothing was traced, or "".
func (r *reader) traceEntity(e *entity, m *placement, placed bool) drawing.Code {
	t := &r.trace
	t.segs = t.segs[:0]
	switch e.kind {
	case lineKind:
		t.move(m.flat(e.at[0]))
		t.add(geometry.LineTo(m.flat(e.at[1])))
	case circleKind, arcKind:
		traceCircle(t, e, m)
	case ellipseKind:
		traceEllipse(t, e, m)
	case lwPolylineKind, polylineKind:
		return tracePolyline(t, e, m, placed)
	case splineKind:
		return traceSpline(t, e, m, r.opt.Limits.Segments)
	}
	if len(t.segs) == 0 {
		return drawing.ZeroLength
	}
	return ""
}

// traceCircle traces an ARC or CIRCLE. An arc runs anticlockwise in its own
// plane; one whose two angles are the same number has no length.
func traceCircle(t *tracer, e *entity, m *placement) {
	object := m.turned(e.normal)
	radius := math.Abs(e.num[0])
	start, sweep := 0.0, 2*math.Pi
	if e.kind == arcKind {
		if e.angle[0] == e.angle[1] {
			return
		}
		start = e.angle[0] * math.Pi / 180
		turn := math.Mod(e.angle[1]-e.angle[0], 360)
		if turn <= 0 {
			turn += 360
		}
		sweep = turn * math.Pi / 180
	}
	t.conic(object.flat(e.at[0]), object.flatVector(point{x: radius}), object.flatVector(point{y: radius}), start, sweep)
}

// traceEllipse traces an ELLIPSE, which lies in world coordinates: the second
// half axis is the extrusion across the first, times the ratio ("ELLIPSE").
// Parameters more than a turn apart mean the same angles within one turn, as
// for an ARC.
func traceEllipse(t *tracer, e *entity, m *placement) {
	major := e.at[1]
	minor := e.normal.unit().cross(major).mul(e.num[0])
	start, sweep := e.num[1], e.num[2]-e.num[1]
	const rounded = 1e-3 // what a turn written with few digits may be too much
	over := math.Abs(sweep) - 2*math.Pi
	switch {
	case !e.has(seenNum+1) && !e.has(seenNum+2), over >= -1e-9 && over <= rounded:
		sweep = 2 * math.Pi
	case sweep == 0:
		return
	default:
		if sweep = math.Mod(sweep, 2*math.Pi); sweep <= 0 {
			sweep += 2 * math.Pi
		}
	}
	t.conic(m.flat(e.at[0]), m.flatVector(major), m.flatVector(minor), start, sweep)
}

// conic traces centre + u·cos a + v·sin a for a from start through sweep, at
// most one turn: as arcs where that is a circle.
func (t *tracer) conic(centre, u, v geometry.Point, start, sweep float64) {
	at := func(a float64) geometry.Point {
		sin, cos := math.Sincos(a)
		return geometry.Point{X: centre.X + u.X*cos + v.X*sin, Y: centre.Y + u.Y*cos + v.Y*sin}
	}
	full := sweep >= 2*math.Pi-1e-12
	t.move(at(start))
	uu, vv := u.Dot(u), v.Dot(v)
	const slack = 1e-12
	if math.Abs(uu-vv) > slack*(uu+vv) || math.Abs(u.Dot(v)) > slack*(uu+vv) {
		for _, s := range geometry.EllipseArc(centre, u, v, start, sweep) {
			t.add(s)
		}
	} else {
		n := 1.0
		if sweep > math.Pi*(1+1e-12) {
			n = 2
		}
		bulge := math.Copysign(math.Tan(sweep/(4*n)), u.Cross(v))
		for i := 1.0; i <= n; i++ {
			t.add(geometry.ArcTo(bulge, at(start+sweep*i/n)))
		}
	}
	if n := len(t.segs); full && n > 0 {
		t.segs[n-1].End, t.at = t.start, t.start
	}
	t.closed = full
}
