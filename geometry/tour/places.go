package tour

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	sampled  = 12 // entries by which a stop is found
	leafSize = 6  // points of a box of the tree that is not parted, at most
)

// places is a tree of the entries by which stops are found, parted in halves across the
// longer side of their box (Bentley, 1975).
type places struct {
	b     *budget.Budget
	own   []place // stop by stop
	first []int32 // of own, by stop, and where the last one ends
	pts   []place // as the leaves hold them
	at    []int32 // place in pts, by number in own; -1: not in the tree
	boxes []box   // of pts, by number of the node: its halves are 2i+1 and 2i+2
}

// place is an entry of a stop.
type place struct {
	x, y                float64
	stop, entry, number int32 // number in own
}

// box is what the points of a node lie in.
type box struct{ x0, y0, x1, y1 float64 }

// newPlaces returns the tree of all stops but one; -1: of all.
func newPlaces(b *budget.Budget, stops []stop, but int) *places {
	t := &places{b: b, first: make([]int32, 1, len(stops)+1)}
	room := roomOf(b, stops)
	for s := range stops {
		all := stops[s].Entries
		b.Step()
		for k, step := 0, stride(stops, s, room); k < len(all); k += step {
			t.own = append(t.own, place{all[k].X, all[k].Y, int32(s), int32(k), int32(len(t.own))})
		}
		t.first = append(t.first, int32(len(t.own)))
	}
	t.pts = slices.Clone(t.own)
	if but >= 0 {
		t.pts = slices.Delete(t.pts, int(t.first[but]), int(t.first[but+1]))
	}
	nodes := 1
	for n := len(t.pts); n > leafSize; n = (n + 1) / 2 {
		nodes = 2*nodes + 1
	}
	t.boxes = make([]box, nodes)
	t.part(0, 0, len(t.pts))
	t.at = make([]int32, len(t.own))
	for i := range t.at {
		t.at[i] = -1
	}
	for i := range t.pts {
		t.at[t.pts[i].number] = int32(i)
	}
	return t
}

// of is the entries by which a stop is found.
func (t *places) of(stop int) []place { return t.own[t.first[stop]:t.first[stop+1]] }

// isLeaf reports whether a node is not parted.
func (t *places) isLeaf(node int) bool { return 2*node+2 >= len(t.boxes) }

func (t *places) part(node, lo, hi int) {
	r := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range t.pts[lo:hi] {
		p := &t.pts[lo+i]
		r.x0, r.x1 = min(r.x0, p.x), max(r.x1, p.x)
		r.y0, r.y1 = min(r.y0, p.y), max(r.y1, p.y)
	}
	t.boxes[node] = r
	if t.isLeaf(node) {
		t.b.Step()
		return
	}
	t.b.Spend(1 + halve(t.pts[lo:hi], r.x1-r.x0 > r.y1-r.y0)/4)
	mid := (lo + hi) / 2
	t.part(2*node+1, lo, mid)
	t.part(2*node+2, mid, hi)
}

// halve brings the lower half of the points, along x or y, before the others, by parting
// them about one of them until the middle is found (Hoare, 1961). Points that rise and fall
// by turns lie so that each parting takes off a few of them alone; where that goes on, what
// is left is sorted (Musser, 1997). It returns how many points it has looked at.
func halve(pts []place, wide bool) (looks int) {
	mid := len(pts) / 2
	for left := 2 * bits.Len(uint(len(pts))); len(pts) > 2*leafSize && left > 0; left-- {
		looks += len(pts)
		i, j := parted(pts, wide)
		switch {
		case mid <= j:
			pts = pts[:j+1]
		case mid >= i:
			pts, mid = pts[i:], mid-i
		default:
			return looks
		}
	}
	slices.SortFunc(pts, func(p, q place) int {
		switch {
		case p.less(&q, wide):
			return -1
		case q.less(&p, wide):
			return 1
		}
		return 0
	})
	return looks + len(pts)*bits.Len(uint(len(pts)))
}

// less reports whether a point comes before another along x or y. No two are equal.
func (p *place) less(q *place, wide bool) bool {
	if wide && p.x != q.x {
		return p.x < q.x
	}
	if p.y != q.y {
		return p.y < q.y
	}
	return cmp.Or(cmp.Compare(p.x, q.x), cmp.Compare(p.number, q.number)) < 0
}

// parted brings points before others that are none of them less, about one of them: the
// former end with j, the latter begin with i, and what lies between is in its place.
func parted(pts []place, wide bool) (i, j int) {
	a, pivot, c := pts[0], pts[len(pts)/2], pts[len(pts)-1]
	if c.less(&a, wide) {
		a, c = c, a
	}
	if pivot.less(&a, wide) {
		pivot = a
	} else if c.less(&pivot, wide) {
		pivot = c
	}
	i, j = 0, len(pts)-1
	for i <= j {
		for pts[i].less(&pivot, wide) {
			i++
		}
		for pivot.less(&pts[j], wide) {
			j--
		}
		if i <= j {
			pts[i], pts[j] = pts[j], pts[i]
			i, j = i+1, j-1
		}
	}
	return i, j
}

// stride is how many entries of a stop lie from one by which it is found to the next:
// among many stops it is found by no more than its size asks for beside the room that
// there is for each.
func stride(stops []stop, s int, room float64) int {
	all := stops[s].Entries
	n := min(len(all), sampled)
	if n > 1 {
		box := geometry.BoxAround(all...)
		n = min(n, 1+int(min(sampled, 2*(box.Width()+box.Height())/room)))
	}
	return 1 + (len(all)-1)/n
}

// roomOf is the side of the square that there is for each stop.
func roomOf(b *budget.Budget, stops []stop) float64 {
	box := geometry.EmptyBox()
	for i := range stops {
		b.Spend(len(stops[i].Entries))
		box = box.Union(geometry.BoxAround(stops[i].Entries...))
	}
	return max(math.Sqrt(box.Width()*box.Height()/float64(len(stops))), 1e-6)
}
