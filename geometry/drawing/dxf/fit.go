package dxf

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// traceFit traces the cubic spline through the fit points of a SPLINE that has
// no control points: twice continuously differentiable in the length of the
// chords. It leaves along the given directions (groups 12 and 13), or else
// without curvature at its ends; a closed one is periodic.
func traceFit(t *tracer, e *entity, m *placement) drawing.Code {
	var pts []geometry.Point
	for _, p := range e.fits {
		if q := m.flat(p); len(pts) == 0 || q != pts[len(pts)-1] {
			pts = append(pts, q)
		}
	}
	closed := e.whole[0]&1 != 0
	if closed && len(pts) > 2 && pts[0] != pts[len(pts)-1] {
		pts = append(pts, pts[0])
	}
	if len(pts) < 2 {
		return drawing.ZeroLength
	}
	steps := make([]float64, len(pts)-1)
	for i := range steps {
		steps[i] = pts[i].Dist(pts[i+1])
	}
	var v []geometry.Point
	if closed && len(pts) > 3 {
		v = periodicSpeeds(t.b, pts, steps)
	} else {
		v = openSpeeds(t.b, pts, steps, direction(e, 2, m), direction(e, 3, m))
	}
	t.move(pts[0])
	for i, h := range steps {
		t.add(geometry.CubicTo(pts[i].Add(v[i].Mul(h/3)), pts[i+1].Sub(v[i+1].Mul(h/3)), pts[i+1]))
	}
	t.finish(false)
	return ""
}

// direction returns the unit vector of point i of e, nil where none is given.
func direction(e *entity, i int, m *placement) *geometry.Point {
	d := m.flatVector(e.at[i]).Unit()
	if !e.hasPoint(i) || d == (geometry.Point{}) {
		return nil
	}
	return &d
}

// openSpeeds solves for the derivatives at the points that make the second
// derivative continuous: at an inner point
//
//	v[i-1]/h[i-1] + 2·v[i]·(1/h[i-1] + 1/h[i]) + v[i+1]/h[i]
//	    = 3·((p[i]-p[i-1])/h[i-1]² + (p[i+1]-p[i])/h[i]²),
//
// a tridiagonal system with a dominant diagonal (Thomas algorithm).
func openSpeeds(b *budget.Budget, pts []geometry.Point, h []float64, start, end *geometry.Point) []geometry.Point {
	n := len(pts)
	s := tridiagonal{make([]float64, n), make([]float64, n), make([]float64, n), make([]geometry.Point, n)}
	for i := 1; i < n-1; i++ {
		b.Step()
		s.row(i, 1/h[i-1], 2/h[i-1]+2/h[i], 1/h[i], bend(pts, h, i-1, i))
	}
	last := n - 1
	s.row(0, 0, 2, 1, pts[1].Sub(pts[0]).Mul(3/h[0]))
	s.row(last, 1, 2, 0, pts[last].Sub(pts[last-1]).Mul(3/h[last-1]))
	if start != nil {
		s.row(0, 0, 1, 0, *start)
	}
	if end != nil {
		s.row(last, 0, 1, 0, *end)
	}
	return s.solve(b)
}

// bend is the right side for the point between steps i and j.
func bend(pts []geometry.Point, h []float64, i, j int) geometry.Point {
	return pts[i+1].Sub(pts[i]).Mul(3 / (h[i] * h[i])).Add(pts[j+1].Sub(pts[j]).Mul(3 / (h[j] * h[j])))
}

// periodicSpeeds solves the same equations round a closed curve, whose first
// and last points are one. The two corners of the cyclic matrix are a change
// of rank one (Sherman and Morrison 1950).
func periodicSpeeds(b *budget.Budget, pts []geometry.Point, h []float64) []geometry.Point {
	n := len(h)
	corner := 1 / h[n-1]
	build := func(right func(i int) geometry.Point) []geometry.Point {
		s := tridiagonal{make([]float64, n), make([]float64, n), make([]float64, n), make([]geometry.Point, n)}
		for i := range n {
			b.Step()
			before := h[(i+n-1)%n]
			s.row(i, 1/before, 2/before+2/h[i], 1/h[i], right(i))
		}
		gamma := -s.diagonal[0]
		s.diagonal[0] -= gamma
		s.diagonal[n-1] -= corner * corner / gamma
		return s.solve(b)
	}
	gamma := -(2/h[n-1] + 2/h[0])
	y := build(func(i int) geometry.Point { return bend(pts, h, (i+n-1)%n, i) })
	z := build(func(i int) geometry.Point {
		switch i {
		case 0:
			return geometry.Point{X: gamma}
		case n - 1:
			return geometry.Point{X: corner}
		}
		return geometry.Point{}
	})
	k := y[0].Add(y[n-1].Mul(corner / gamma)).Mul(1 / (1 + z[0].X + z[n-1].X*corner/gamma))
	for i := range y {
		y[i] = y[i].Sub(k.Mul(z[i].X))
	}
	return append(y, y[0])
}

// tridiagonal is a system of equations with points as unknowns.
type tridiagonal struct {
	below, diagonal, above []float64
	right                  []geometry.Point
}

func (s *tridiagonal) row(i int, below, diagonal, above float64, right geometry.Point) {
	s.below[i], s.diagonal[i], s.above[i], s.right[i] = below, diagonal, above, right
}

func (s *tridiagonal) solve(b *budget.Budget) []geometry.Point {
	n := len(s.diagonal)
	for i := 1; i < n; i++ {
		b.Step()
		k := s.below[i] / s.diagonal[i-1]
		s.diagonal[i] -= k * s.above[i-1]
		s.right[i] = s.right[i].Sub(s.right[i-1].Mul(k))
	}
	for i := n - 1; i >= 0; i-- {
		r := s.right[i]
		if i < n-1 {
			r = r.Sub(s.right[i+1].Mul(s.above[i]))
		}
		s.right[i] = r.Mul(1 / s.diagonal[i])
	}
	return s.right
}
