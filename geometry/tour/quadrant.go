package tour

import "math"

const (
	perQuadrant = 2  // stops listed in each direction
	nearest     = 5  // stops listed wherever they are
	mostNear    = 13 // stops listed in all
)

// list is the nearest stops found so far, the nearest first, with their distances squared.
type list struct {
	stops [mostNear]int32
	dists [mostNear]float64
	n     int
	most  int
	reach float64 // squared, within which others are asked for
}

func emptyList(most int) list { return list{most: most, reach: math.Inf(1)} }

func (l *list) offer(stop int32, d float64) {
	if d >= l.reach {
		return
	}
	at := l.n
	for i := range l.n {
		if l.stops[i] == stop {
			if l.dists[i] <= d {
				return
			}
			at = i
			break
		}
	}
	if at == l.most {
		at--
	} else if at == l.n {
		l.n++
	}
	for ; at > 0 && l.dists[at-1] > d; at-- {
		l.stops[at], l.dists[at] = l.stops[at-1], l.dists[at-1]
	}
	l.stops[at], l.dists[at] = stop, d
	if l.n == l.most {
		l.reach = l.dists[l.n-1]
	}
}

// surroundings is what lies near the entries of a stop: the nearest in each quadrant,
// from the upper right one on, and then of all.
type surroundings struct {
	*places
	own   int32
	lists [5]list
	steps int
}

// nearStops lists for every stop those that may become its neighbours: the
// nearest in each direction, and the nearest of all, which lie to one side
// where stops are in clusters (Johnson and McGeoch, 1997).
func (t *places) nearStops() [][]int32 {
	count := len(t.first) - 1
	near := make([][]int32, count)
	all := make([]int32, 0, mostNear*count)
	r := surroundings{places: t}
	for s := range near {
		from := len(all)
		all = r.around(all, s)
		near[s] = all[from:len(all):len(all)]
	}
	return near
}

// around appends the stops near one.
func (r *surroundings) around(to []int32, stop int) []int32 {
	r.own = int32(stop)
	for i := range 4 {
		r.lists[i] = emptyList(perQuadrant)
	}
	r.lists[4] = emptyList(nearest)
	for i := range r.of(stop) {
		r.steps = 0
		r.look(&r.of(stop)[i], 0, 0, len(r.pts))
		r.b.Spend(r.steps)
	}
	all := emptyList(mostNear)
	for i := 4; i >= 0; i-- {
		for k := range r.lists[i].n {
			all.offer(r.lists[i].stops[k], r.lists[i].dists[k])
		}
	}
	return append(to, all.stops[:all.n]...)
}

// look offers the points of a node to the lists.
func (r *surroundings) look(p *place, node, lo, hi int) {
	r.steps++
	if r.isLeaf(node) {
		r.offer(p, r.pts[lo:hi])
		return
	}
	mid := (lo + hi) / 2
	a, b := 2*node+1, 2*node+2
	da, db := r.boxes[a].apart(p), r.boxes[b].apart(p)
	if da <= db && r.wants(p, a, da) {
		r.look(p, a, lo, mid)
	}
	if r.wants(p, b, db) {
		r.look(p, b, mid, hi)
	}
	if da > db && r.wants(p, a, da) {
		r.look(p, a, lo, mid)
	}
}

// wants reports whether a node that lies d apart, squared, may hold what a list asks for.
func (r *surroundings) wants(p *place, node int, d float64) bool {
	if d < r.lists[4].reach {
		return true
	}
	box := &r.boxes[node]
	right, left, above, below := box.x1 >= p.x, box.x0 <= p.x, box.y1 >= p.y, box.y0 <= p.y
	return right && above && d < r.lists[0].reach || left && above && d < r.lists[1].reach ||
		left && below && d < r.lists[2].reach || right && below && d < r.lists[3].reach
}

// offer offers points to the lists. One straight beside or above is in two quadrants.
func (r *surroundings) offer(p *place, pts []place) {
	for i := range pts {
		q := &pts[i]
		if q.stop == r.own {
			continue
		}
		dx, dy := q.x-p.x, q.y-p.y
		d := dx*dx + dy*dy
		r.lists[4].offer(q.stop, d)
		if dx >= 0 && dy >= 0 {
			r.lists[0].offer(q.stop, d)
		}
		if dx <= 0 && dy >= 0 {
			r.lists[1].offer(q.stop, d)
		}
		if dx <= 0 && dy <= 0 {
			r.lists[2].offer(q.stop, d)
		}
		if dx >= 0 && dy <= 0 {
			r.lists[3].offer(q.stop, d)
		}
	}
}

// apart is how far a point lies from a box, squared.
func (b *box) apart(p *place) float64 {
	dx := max(0, b.x0-p.x, p.x-b.x1)
	dy := max(0, b.y0-p.y, p.y-b.y1)
	return dx*dx + dy*dy
}
