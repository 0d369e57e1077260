package geometry

import "math"

// Kind says how a Segment runs from its start to its end.
type Kind uint8

// The kinds of Segment.
const (
	Line  Kind = iota // straight
	Arc               // circular, given by its bulge
	Cubic             // cubic Bézier with two control points
)

// Segment is one piece of a Path. It starts where the piece before it ended.
type Segment struct {
	Kind   Kind
	End    Point
	C1, C2 Point   // control points of a Cubic
	Bulge  float64 // of an Arc: tan(θ/4), θ the angle swept anticlockwise; |Bulge| ≤ 1
}

// Path is a run of joined segments. In a Closed path the last segment ends
// exactly at Start, so no edge is implied.
type Path struct {
	Start    Point
	Segments []Segment
	Closed   bool
}

// flatBulge is the bulge below which an arc counts as straight. It rises by
// less than 5·10⁻⁸ of its chord (0.05 µm on a metre), and its circle is so
// large that computing with its centre would lose more.
const flatBulge = 1e-7

// Straight reports whether s runs straight to its end: a line, or an arc that
// is as good as flat.
func (s Segment) Straight() bool {
	return s.Kind == Line || s.Kind == Arc && math.Abs(s.Bulge) < flatBulge
}

// LineTo returns the straight segment to p.
func LineTo(p Point) Segment { return Segment{Kind: Line, End: p} }

// CubicTo returns the Bézier segment to p with control points c1 and c2.
func CubicTo(c1, c2, p Point) Segment { return Segment{Kind: Cubic, C1: c1, C2: c2, End: p} }

// ArcTo returns the circular segment to p with the given bulge.
func ArcTo(bulge float64, p Point) Segment { return Segment{Kind: Arc, Bulge: bulge, End: p} }

// Polyline returns the open path through the points, or an empty path for
// fewer than one.
func Polyline(pts ...Point) Path {
	if len(pts) == 0 {
		return Path{}
	}
	p := Path{Start: pts[0], Segments: make([]Segment, 0, len(pts))}
	for _, q := range pts[1:] {
		p.Segments = append(p.Segments, LineTo(q))
	}
	return p
}

// Polygon returns the closed path round the points, given without repeating
// the first.
func Polygon(pts ...Point) Path {
	p := Polyline(pts...)
	p.Close()
	return p
}

// Circle returns the circle of radius r about c as two half arcs, run
// anticlockwise from the point right of the centre.
func Circle(c Point, r float64) Path {
	right, left := Point{c.X + r, c.Y}, Point{c.X - r, c.Y}
	return Path{Start: right, Segments: []Segment{ArcTo(1, left), ArcTo(1, right)}, Closed: true}
}

// Close marks p closed, adding a straight segment to Start when the path does
// not end there already.
func (p *Path) Close() {
	if len(p.Segments) == 0 {
		return
	}
	if p.End() != p.Start {
		p.Segments = append(p.Segments, LineTo(p.Start))
	}
	p.Closed = true
}

// End returns the last point of p, which is Start where there is no segment.
func (p Path) End() Point {
	if n := len(p.Segments); n > 0 {
		return p.Segments[n-1].End
	}
	return p.Start
}

// Empty reports whether p draws nothing.
func (p Path) Empty() bool { return len(p.Segments) == 0 }

// OnLine reports whether p is made of straight segments that stay within slack
// of one line, so that it has no inside.
func (p Path) OnLine(slack float64) bool {
	far := p.Start
	for _, s := range p.Segments {
		if !s.Straight() {
			return false
		}
		if s.End.Dist(p.Start) > far.Dist(p.Start) {
			far = s.End
		}
	}
	along := far.Sub(p.Start).Unit()
	for _, s := range p.Segments {
		if math.Abs(along.Cross(s.End.Sub(p.Start))) > slack {
			return false
		}
	}
	return true
}

// Finite reports whether every number in p is an ordinary one.
func (p Path) Finite() bool {
	if !p.Start.Finite() {
		return false
	}
	for _, s := range p.Segments {
		if !s.End.Finite() || !s.C1.Finite() || !s.C2.Finite() || math.IsNaN(s.Bulge) || math.IsInf(s.Bulge, 0) {
			return false
		}
	}
	return true
}

// Reversed returns p run the other way.
func (p Path) Reversed() Path {
	r := Path{Start: p.End(), Closed: p.Closed, Segments: make([]Segment, len(p.Segments))}
	for i, s := range p.Segments {
		j := len(p.Segments) - 1 - i
		r.Segments[j] = Segment{Kind: s.Kind, End: p.from(i), C1: s.C2, C2: s.C1, Bulge: -s.Bulge}
	}
	return r
}

// Transform returns the image of p. Arcs stay arcs under similar maps; under
// any other they become cubics (see EllipseArc for the bound).
func (p Path) Transform(m Affine) Path {
	q := Path{Start: m.Apply(p.Start), Closed: p.Closed, Segments: make([]Segment, 0, len(p.Segments))}
	similar := m.Similar()
	sign := 1.0
	if m.Det() < 0 {
		sign = -1
	}
	from := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Straight():
			q.Segments = append(q.Segments, LineTo(m.Apply(s.End)))
		case s.Kind == Arc && similar:
			q.Segments = append(q.Segments, ArcTo(sign*s.Bulge, m.Apply(s.End)))
		case s.Kind == Arc:
			c, r, a0, sweep := ArcCircle(from, s)
			u, v := m.ApplyVector(Point{r, 0}), m.ApplyVector(Point{0, r})
			q.Segments = append(q.Segments, EllipseArc(m.Apply(c), u, v, a0, sweep)...)
			q.Segments[len(q.Segments)-1].End = m.Apply(s.End)
		default:
			q.Segments = append(q.Segments, CubicTo(m.Apply(s.C1), m.Apply(s.C2), m.Apply(s.End)))
		}
		from = s.End
	}
	if q.Closed {
		q.Segments[len(q.Segments)-1].End = q.Start
	}
	return q
}

// from returns the start of segment i.
func (p Path) from(i int) Point {
	if i == 0 {
		return p.Start
	}
	return p.Segments[i-1].End
}
