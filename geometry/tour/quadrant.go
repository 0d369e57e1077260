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
	t.half(t.pts[lo:hi], box.Width() > box.Height(), 4*node+6 >= len(t.boxes))
	mid := (lo + hi) / 2
	t.part(2*node+1, lo, mid)
	t.part(2*node+2, mid, hi)
}

// half brings the lower half of the points, along x or y, before the others, and
// all of them into their order where that is asked for.
func (t *places) half(pts []place, wide, sorted bool) {
	compare := func(p, q place) int {
		t.b.Step()
		if wide {
			return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(p.stop, q.stop))
		}
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X), cmp.Compare(p.stop, q.stop))
	}
	mid := len(pts) / 2
	for !sorted && len(pts) > 2*leafSize {
		i, j := parted(pts, compare)
		switch {
		case mid <= j:
			pts = pts[:j+1]
		case mid >= i:
			pts, mid = pts[i:], mid-i
		default:
			return
		}
	}
	slices.SortFunc(pts, compare)
}

// parted brings points before others that are none of them less, about one of them
// (Hoare, 1961): the former end with j, the latter begin with i, and what lies between
// is in its place.
func parted(pts []place, compare func(p, q place) int) (i, j int) {
	three := [...]place{pts[0], pts[len(pts)/2], pts[len(pts)-1]}
	slices.SortFunc(three[:], compare)
	i, j = 0, len(pts)-1
	for i <= j {
		for compare(pts[i], three[1]) < 0 {
			i++
		}
		for compare(pts[j], three[1]) > 0 {
			j--
		}
		if i <= j {
			pts[i], pts[j] = pts[j], pts[i]
			i, j = i+1, j-1
		}
	}
	return i, j
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
	room := roomOf(b, stops)
	for s := range stops {
		all := stops[s].Entries
		step := stride(stops, s, room)
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
