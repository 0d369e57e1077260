package tour

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	perQuadrant = 2  // stops listed in each direction
	nearest     = 5  // stops listed wherever they are
	mostNear    = 13 // stops listed in all
	sampled     = 12 // entries by which a stop is found
)

// leafSize is how many points a box of the tree holds that is not parted.
const leafSize = 6

// places is a tree of points, parted in halves across the longer side of
// their box (Bentley, 1975).
type places struct {
	b     *budget.Budget
	pts   []place
	boxes []geometry.Box // of pts, by number of the node: its halves are 2i+1 and 2i+2
}

type place struct {
	geometry.Point
	stop int32
}

func newPlaces(b *budget.Budget, pts []place) *places {
	t := &places{b: b, pts: pts}
	nodes := 1
	for n := len(pts); n > leafSize; n = (n + 1) / 2 {
		nodes = 2*nodes + 1
	}
	t.boxes = make([]geometry.Box, nodes)
	t.part(0, 0, len(pts))
	return t
}

func (t *places) part(node, lo, hi int) {
	box := geometry.EmptyBox()
	for _, p := range t.pts[lo:hi] {
		t.b.Step()
		box = box.Include(p.Point)
	}
	t.boxes[node] = box
	if 2*node+2 >= len(t.boxes) {
		return
	}
	wide := box.Width() > box.Height()
	slices.SortFunc(t.pts[lo:hi], func(p, q place) int {
		t.b.Step()
		if wide {
			return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(p.stop, q.stop))
		}
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X), cmp.Compare(p.stop, q.stop))
	})
	mid := (lo + hi) / 2
	t.part(2*node+1, lo, mid)
	t.part(2*node+2, mid, hi)
}

// list is the nearest stops found so far, the nearest first.
type list struct {
	stops [mostNear]int32
	dists [mostNear]float64
	n     int
	most  int
}

func (l *list) reach() float64 {
	if l.n < l.most {
		return math.Inf(1)
	}
	return l.dists[l.n-1]
}

func (l *list) offer(stop int32, d float64) {
	if d >= l.reach() {
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
}

// find offers the stops near p that lie within a region.
func (t *places) find(l *list, own int32, p geometry.Point, region geometry.Box) {
	t.descend(l, own, p, region, 0, 0, len(t.pts))
}

func (t *places) descend(l *list, own int32, p geometry.Point, region geometry.Box, node, lo, hi int) {
	t.b.Step()
	box := t.boxes[node]
	if !box.Overlaps(region) || apart(p, box) >= l.reach() {
		return
	}
	if 2*node+2 >= len(t.boxes) {
		for _, q := range t.pts[lo:hi] {
			if q.stop != own && region.Contains(q.Point) {
				l.offer(q.stop, q.Dist(p))
			}
		}
		return
	}
	mid := (lo + hi) / 2
	a, b := 2*node+1, 2*node+2
	if apart(p, t.boxes[a]) <= apart(p, t.boxes[b]) {
		t.descend(l, own, p, region, a, lo, mid)
		t.descend(l, own, p, region, b, mid, hi)
		return
	}
	t.descend(l, own, p, region, b, mid, hi)
	t.descend(l, own, p, region, a, lo, mid)
}

// apart is the distance of a point from a box.
func apart(p geometry.Point, box geometry.Box) float64 {
	dx := max(0, box.Min.X-p.X, p.X-box.Max.X)
	dy := max(0, box.Min.Y-p.Y, p.Y-box.Max.Y)
	return math.Sqrt(dx*dx + dy*dy)
}

// quadrants are the four regions round a point.
func quadrants(p geometry.Point) [4]geometry.Box {
	inf := math.Inf(1)
	return [4]geometry.Box{
		{Min: p, Max: geometry.Pt(inf, inf)},
		{Min: geometry.Pt(-inf, p.Y), Max: geometry.Pt(p.X, inf)},
		{Min: geometry.Pt(-inf, -inf), Max: p},
		{Min: geometry.Pt(p.X, -inf), Max: geometry.Pt(inf, p.Y)},
	}
}

// nearStops lists for every stop those that may become its neighbours: the
// nearest in each direction, and the nearest of all, which lie to one side
// where stops are in clusters (Johnson and McGeoch, 1997). A stop is found by
// entries picked evenly, sampled of them at most.
func nearStops(b *budget.Budget, stops []stop, but int) [][]int32 {
	var pts []place
	first := make([]int, len(stops)+1)
	for s := range stops {
		all := stops[s].Entries
		step := 1 + (len(all)-1)/sampled
		for k := 0; k < len(all); k += step {
			pts = append(pts, place{all[k], int32(s)})
		}
		first[s+1] = len(pts)
	}
	others := slices.DeleteFunc(slices.Clone(pts), func(p place) bool { return int(p.stop) == but })
	t := newPlaces(b, others)
	near := make([][]int32, len(stops))
	all := make([]int32, 0, mostNear*len(stops))
	for s := range stops {
		from := len(all)
		all = t.around(all, int32(s), pts[first[s]:first[s+1]])
		near[s] = all[from:len(all):len(all)]
	}
	return near
}

// around appends the stops near one that has these entries.
func (t *places) around(to []int32, own int32, entries []place) []int32 {
	lists := [5]list{{most: perQuadrant}, {most: perQuadrant}, {most: perQuadrant}, {most: perQuadrant}, {most: nearest}}
	for _, p := range entries {
		for i, q := range quadrants(p.Point) {
			t.find(&lists[i], own, p.Point, q)
		}
		inf := math.Inf(1)
		t.find(&lists[4], own, p.Point, geometry.Box{Min: geometry.Pt(-inf, -inf), Max: geometry.Pt(inf, inf)})
	}
	all := list{most: mostNear}
	for i := 4; i >= 0; i-- {
		for k := range lists[i].n {
			all.offer(lists[i].stops[k], lists[i].dists[k])
		}
	}
	return append(to, all.stops[:all.n]...)
}
