package tour

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// greedy orders the stops by always going to the nearest entry of a stop whose
// predecessors are done, from home on, a phase at a time.
func greedy(b *budget.Budget, t *places, stops []stop, home int) (seq, entry []int) {
	entry = make([]int, len(stops))
	seq = append(make([]int, 0, len(stops)), home)
	waiting := make([]int, len(stops))
	for s := range stops {
		waiting[s] = len(stops[s].before)
	}
	at := stops[home].exit(0)
	open := openPlaces{places: t, count: make([]int32, len(t.boxes)), isOpen: make([]bool, len(t.pts))}
	for _, members := range phases(stops, home) {
		for _, s := range members {
			if waiting[s] == 0 {
				open.change(s, true)
			}
		}
		for range members {
			s, e := open.nearest(at)
			open.change(s, false)
			entry[s] = e
			seq = append(seq, s)
			at = stops[s].exit(e)
			b.Spend(len(stops[s].After))
			for _, next := range stops[s].After {
				if waiting[next]--; waiting[next] == 0 && stops[next].Phase == stops[s].Phase {
					open.change(next, true)
				}
			}
		}
	}
	return seq, entry
}

// openPlaces are the entries of a tree that can be gone to next.
type openPlaces struct {
	*places
	count  []int32 // how many there are, by node
	isOpen []bool  // by place in pts

	from  place
	best  int32 // in pts
	dist  float64
	steps int
}

// change opens the entries of a stop, or closes them.
func (o *openPlaces) change(stop int, isOpen bool) {
	by := int32(-1)
	if isOpen {
		by = 1
	}
	for i := range o.of(stop) {
		at := int(o.at[o.of(stop)[i].number])
		o.b.Step()
		o.isOpen[at] = isOpen
		node, lo, hi := 0, 0, len(o.pts)
		for ; !o.isLeaf(node); o.count[node] += by {
			if mid := (lo + hi) / 2; at < mid {
				node, hi = 2*node+1, mid
			} else {
				node, lo = 2*node+2, mid
			}
		}
	}
}

// nearest returns the stop with the nearest entry to p, by the longer of the ways along
// the axes, as these move together. One has to be open.
func (o *openPlaces) nearest(p geometry.Point) (stop, entry int) {
	o.from, o.best, o.dist, o.steps = place{x: p.X, y: p.Y}, -1, math.Inf(1), 0
	o.look(0, 0, len(o.pts))
	o.b.Spend(o.steps)
	return int(o.pts[o.best].stop), int(o.pts[o.best].entry)
}

func (o *openPlaces) look(node, lo, hi int) {
	o.steps++
	if o.isLeaf(node) {
		for i := lo; i < hi; i++ {
			if !o.isOpen[i] {
				continue
			}
			if d := max(math.Abs(o.pts[i].x-o.from.x), math.Abs(o.pts[i].y-o.from.y)); d < o.dist {
				o.best, o.dist = int32(i), d
			}
		}
		return
	}
	mid := (lo + hi) / 2
	a, b := 2*node+1, 2*node+2
	da, db := o.boxes[a].along(&o.from), o.boxes[b].along(&o.from)
	if da <= db && o.wants(a, da) {
		o.look(a, lo, mid)
	}
	if o.wants(b, db) {
		o.look(b, mid, hi)
	}
	if da > db && o.wants(a, da) {
		o.look(a, lo, mid)
	}
}

func (o *openPlaces) wants(node int, d float64) bool { return o.count[node] > 0 && d < o.dist }

// along is how far a point lies from a box, by the longer of the ways along the axes.
func (b *box) along(p *place) float64 {
	return max(0, b.x0-p.x, p.x-b.x1, b.y0-p.y, p.y-b.y1)
}
