package outline

import "math"

// Pole is a circle inside an outline.
type Pole struct{ X, Y, R float64 }

// The poles of an outline: no more than mostPoles, until they cover covered of
// its area or are smaller than smallestPole of the first.
const (
	mostPoles    = 12
	covered      = 0.88
	smallestPole = 0.12
	poleGrid     = 32
)

// Poles returns circles that lie in the rings and not in each other, each as
// large as was found, the largest first: points that lie farthest from the
// border and from the poles before (poles of inaccessibility).
func Poles(rings [][]Point) []Pole {
	f := newField(rings)
	var poles []Pole
	area := 0.0
	for len(poles) < mostPoles && area < covered*f.area {
		p := f.farthest()
		if p.R <= 0 || len(poles) > 0 && p.R < smallestPole*poles[0].R {
			break
		}
		poles = append(poles, p)
		area += float64(math.Pi * float64(p.R*p.R))
		f.add(p)
	}
	return poles
}

// field is the distance from the border and the poles, at the points of a
// coarse grid; negative outside.
type field struct {
	edges  []Edge
	poles  []Pole
	low    anchor
	dx, dy float64
	at     []float64
	area   float64
}

func newField(rings [][]Point) *field {
	f := &field{}
	for _, ring := range rings {
		f.area += doubleArea(ring) / 2
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			f.edges = append(f.edges, Edge{float64(p.X), float64(p.Y), float64(q.X), float64(q.Y)})
		}
	}
	low, high := Box(rings)
	f.low = anchor{float64(low.X), float64(low.Y)}
	f.dx, f.dy = float64(high.X-low.X)/poleGrid, float64(high.Y-low.Y)/poleGrid
	f.at = make([]float64, poleGrid*poleGrid)
	for i := range f.at {
		f.at[i] = f.distance(f.point(i))
	}
	return f
}

func (f *field) point(i int) anchor {
	column, row := float64(i%poleGrid)+0.5, float64(i/poleGrid)+0.5
	return anchor{f.low.x + float64(column*f.dx), f.low.y + float64(row*f.dy)}
}

// add takes a pole out of the field.
func (f *field) add(p Pole) {
	f.poles = append(f.poles, p)
	for i := range f.at {
		q := f.point(i)
		f.at[i] = min(f.at[i], gap(p, q))
	}
}

func gap(p Pole, q anchor) float64 {
	x, y := q.x-p.X, q.y-p.Y
	return math.Sqrt(float64(x*x)+float64(y*y)) - p.R
}

// farthest returns the pole at the best point of the grid, moved on to where the
// distance is greatest nearby.
func (f *field) farthest() Pole {
	best := 0
	for i, d := range f.at {
		if d > f.at[best] {
			best = i
		}
	}
	q, r := f.point(best), f.at[best]
	for sx, sy := f.dx/2, f.dy/2; sx > f.dx/128; {
		moved := false
		for _, d := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			t := anchor{q.x + float64(d[0]*sx), q.y + float64(d[1]*sy)}
			if s := f.distance(t); s > r {
				q, r, moved = t, s, true
			}
		}
		if !moved {
			sx, sy = sx/2, sy/2
		}
	}
	return Pole{q.x, q.y, r}
}

// distance returns how far q lies from the border and the poles; negative
// outside the rings.
func (f *field) distance(q anchor) float64 {
	in := false
	least := math.Inf(1)
	for i := range f.edges {
		e := &f.edges[i]
		least = min(least, e.distance(q))
		if (e.Y0 > q.y) != (e.Y1 > q.y) {
			s := float64((e.X1-e.X0)*(q.y-e.Y0)) - float64((q.x-e.X0)*(e.Y1-e.Y0))
			if (s > 0) == (e.Y1 > e.Y0) {
				in = !in
			}
		}
	}
	least = math.Sqrt(least)
	if !in {
		return -least
	}
	for _, p := range f.poles {
		least = min(least, gap(p, q))
	}
	return least
}

// distance returns the square of the distance of q from the edge.
func (e *Edge) distance(q anchor) float64 {
	ux, uy := e.X1-e.X0, e.Y1-e.Y0
	vx, vy := q.x-e.X0, q.y-e.Y0
	n := float64(ux*ux) + float64(uy*uy)
	t := 0.0
	if n > 0 {
		t = max(0, min(1, (float64(ux*vx)+float64(uy*vy))/n))
	}
	vx, vy = vx-float64(t*ux), vy-float64(t*uy)
	return float64(vx*vx) + float64(vy*vy)
}
