package spoil

import (
	"math"

	"knifedesk/geometry"
)

// role says what a figure is in truth.
type role int

const (
	cut    role = iota
	frame       // carries the size and is not cut
	stray       // without length, thrown away
	ground      // a filled background
	either      // a line that may be cut or not, as far as the size goes
	other       // work of a drawing in the file that is not meant
)

// figure is one path in mm on the page: a circle about its only point where r
// is set, else a polyline.
type figure struct {
	pts    []geometry.Point
	r      float64
	arcs   bool // every second side is a quarter circle, the second one first
	closed bool
	layer  string
	role   role
	group  bool // inside the nested part
}

func (m *maker) rect(x, y, w, h float64) figure {
	return figure{closed: true, pts: []geometry.Point{
		geometry.Pt(x, y), geometry.Pt(x+w, y), geometry.Pt(x+w, y+h), geometry.Pt(x, y+h),
	}, layer: m.workOn}
}

// add draws figures of a role.
func (m *maker) add(as role, fs ...figure) {
	for _, f := range fs {
		f.role = as
		m.figures = append(m.figures, f)
	}
}

// drawWork draws n figures within a rectangle of the page.
func drawWork(m *maker, x, y, w, h float64, n int) {
	short := math.Min(w, h)
	for range n {
		r := m.between(0.08, 0.3) * short
		c := geometry.Pt(m.between(x+r, x+w-r), m.between(y+r, y+h-r))
		m.add(cut, someFigure(m, c, r)...)
	}
	if m.chance(0.15) {
		m.note("a line drawn twice")
		m.figures = append(m.figures, m.figures[len(m.figures)-1])
	}
}

// someFigure draws a figure about c that reaches at most r.
func someFigure(m *maker, c geometry.Point, r float64) []figure {
	at := func(k, deg float64) geometry.Point {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return geometry.Pt(c.X+k*r*cos, c.Y+k*r*sin)
	}
	f := figure{layer: m.workOn, closed: true}
	switch m.rng.IntN(6) {
	case 0:
		w, h := m.between(0.25, 0.7)*r, m.between(0.25, 0.7)*r
		return []figure{m.rect(c.X-w, c.Y-h, 2*w, 2*h)}
	case 1:
		f.pts, f.r = []geometry.Point{c}, r
	case 2:
		for i, n := 0, 5+m.rng.IntN(6); i < n; i++ {
			f.pts = append(f.pts, at(m.between(0.3, 1), 360*float64(i)/float64(n)))
		}
	case 3: // one line
		f.closed = false
		f.pts = []geometry.Point{at(1, m.between(0, 180)), at(1, m.between(180, 360))}
	case 4: // an outlined letter with its counter
		f.pts = []geometry.Point{at(1, 250), at(1, 290), at(1, 80), at(1, 100)}
		hole := figure{layer: m.workOn, closed: true, pts: []geometry.Point{at(0.4, 260), at(0.4, 280), at(0.2, 90)}}
		return []figure{f, hole}
	case 5:
		f.closed = false
		for i := range 4 {
			f.pts = append(f.pts, at(m.between(0.5, 1), 70*float64(i)))
		}
	}
	return []figure{f}
}

// drawClosed makes sure that something closed lies within.
func drawClosed(m *maker, x, y, w, h float64) {
	r := m.between(0.1, 0.3) * math.Min(w, h)
	m.add(cut, figure{layer: m.workOn, closed: true, r: r, pts: []geometry.Point{geometry.Pt(m.between(x+r, x+w-r), m.between(y+r, y+h-r))}})
}

// corner is the corner that a quarter circle from p to q, to the left, rounds.
func corner(p, q geometry.Point) geometry.Point {
	d := q.Sub(p)
	return geometry.Pt((p.X+q.X+d.Y)/2, (p.Y+q.Y-d.X)/2)
}

// arc reports whether a quarter circle begins at the point with that number.
func (f *figure) arc(i int) bool { return f.arcs && i%2 == 1 }

// bounds is the box of the figure after a map that keeps circles round.
func (f *figure) bounds(a geometry.Affine) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range f.pts {
		q := a.Apply(p)
		b = b.Union(geometry.BoxAround(q, q))
	}
	return b.Grow(f.r * a.MeanScale())
}
