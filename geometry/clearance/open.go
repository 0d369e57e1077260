package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// open returns the boundary of the region slit along the ties as one closed
// walk, the inside on its left. A tie is walked twice, once on either side.
// Rings that no tie reaches from the outer ring are left out.
func (r *Region) open(b *budget.Budget, ties []Tie) Walk {
	w := slit{budget: b, r: r, stops: make([][]stop, r.Rings()), place: make([][2]int, len(ties))}
	for k, t := range ties {
		b.Step()
		w.add(k, 0, t)
		w.add(k, 1, t)
	}
	for ring := range w.stops {
		slices.SortFunc(w.stops[ring], func(s, t stop) int {
			b.Step()
			return s.compare(t)
		})
		for i, s := range w.stops[ring] {
			w.place[s.tie][s.end] = i
		}
	}
	w.ties = ties
	return w.walk()
}

type slit struct {
	budget *budget.Budget
	r      *Region
	ties   []Tie
	stops  [][]stop // by ring, in order along it
	place  [][2]int // by tie and end: its place among the stops of the ring
}

// stop is where a tie meets a ring.
type stop struct {
	at       geometry.Point
	edge     int
	along    float64 // on the edge
	fan      float64 // clockwise angle from the way back, to order ties that share a point
	tie, end int
}

func (s stop) compare(t stop) int {
	return cmp.Or(cmp.Compare(s.edge, t.edge), cmp.Compare(s.along, t.along), cmp.Compare(s.fan, t.fan), cmp.Compare(s.tie, t.tie))
}

// add enters one end of a tie. An end on a corner belongs to the edge that
// begins there.
func (w *slit) add(tie, end int, t Tie) {
	at, other := t.From, t.To
	if end == 1 {
		at, other = other, at
	}
	i := t.edges[end]
	if at == w.r.edges[i].b {
		i = w.r.next(i)
	}
	e := w.r.edges[i]
	back := e.a.Sub(e.b)
	if at == e.a {
		back = w.r.edges[w.r.prev(i)].dir.Mul(-1)
	}
	v := other.Sub(at)
	fan := math.Atan2(v.Cross(back), v.Dot(back))
	if fan < 0 {
		fan += 2 * math.Pi
	}
	w.stops[e.ring] = append(w.stops[e.ring], stop{at: at, edge: i, along: at.Dist(e.a), fan: fan, tie: tie, end: end})
}

// walk goes round the outer ring and along every tie that it meets.
func (w *slit) walk() (out Walk) {
	r := w.r
	if len(r.edges) == 0 {
		return out
	}
	if len(w.stops[0]) == 0 {
		return w.ring(0)
	}
	most := len(r.edges) + 2*len(w.ties) // corners, and ends of ties
	out = Walk{make([]geometry.Point, 0, most), make([]int32, 0, most)}
	ring, from := 0, 0
	for {
		w.budget.Step()
		stops := w.stops[ring]
		to := (from + 1) % len(stops)
		out.Put(stops[from].at, r.edges[stops[from].edge].side)
		w.between(&out, stops, from, to)
		s := stops[to]
		out.Put(s.at, NoSide)
		far := 1 - s.end
		ring = int(r.edges[w.ties[s.tie].edges[far]].ring)
		from = w.place[s.tie][far]
		if ring == 0 && from == 0 {
			break
		}
	}
	out.Close()
	return out
}

// between puts in the corners of the ring between two stops.
func (w *slit) between(out *Walk, stops []stop, from, to int) {
	i, last := stops[from].edge, stops[to].edge
	if i == last && to > from {
		return
	}
	for {
		w.budget.Step()
		at := w.r.edges[i].b
		i = w.r.next(i)
		if out.Put(at, w.r.edges[i].side); i == last {
			return
		}
	}
}

// ring returns the walk along one ring.
func (w *slit) ring(number int) (out Walk) {
	for i := w.r.first[number]; i < w.r.first[number+1]; i++ {
		out.Put(w.r.edges[i].a, w.r.edges[i].side)
	}
	return out
}
