package mend

import (
	"cmp"
	"container/heap"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// strayMM is how far a line may move sideways when a vertex is dropped.
const strayMM = geometry.DefaultChord

// tiny merges segments shorter than lim.TinyMM into their neighbours and drops
// lines that are no longer than that as a whole. No vertex is dropped that
// lies more than strayMM off the line that replaces it.
func tiny(b *budget.Budget, strokes []artwork.Stroke, lim Limits) (out []artwork.Stroke, dropped int, places []finding.Place) {
	out = make([]artwork.Stroke, 0, len(strokes))
	for _, s := range strokes {
		path, gone := merged(b, s.Path, lim.TinyMM)
		n := len(gone)
		if n == 0 && (len(path.Segments) > 3 || path.LengthIn(b) > lim.TinyMM) {
			out = append(out, s)
			continue
		}
		if path.LengthIn(b) > lim.TinyMM {
			for _, box := range tinyRuns(s.Path, gone, lim.TinyMM) {
				places = append(places, placeOf(&s, box))
			}
			s.Path = path
			out = append(out, s)
		} else {
			n = max(n, len(path.Segments))
			places = append(places, placeOf(&s, s.Path.Bounds()))
		}
		dropped += n
	}
	return out, dropped, sortedPlaces(b, places)
}

// tinyRuns returns the boxes of the runs of tiny segments in p of which a
// vertex is gone. Vertex i is the end of segment i.
func tinyRuns(p geometry.Path, gone []int, limit float64) []geometry.Box {
	dropped := make([]bool, len(p.Segments)+1) // by the segment after the vertex
	for _, i := range gone {
		dropped[i+1] = true
	}
	dropped[0] = p.Closed && dropped[len(p.Segments)]
	var runs []geometry.Box
	open := false // the run before goes on
	for i, q := range pieces(p) {
		tiny := q.from.Dist(q.seg.End) < limit && (dropped[i] || dropped[i+1])
		switch {
		case tiny && open:
			runs[len(runs)-1] = runs[len(runs)-1].Union(q.box())
		case tiny:
			runs = append(runs, q.box())
		}
		open = tiny
	}
	if len(runs) == 0 { // short only once its neighbours were merged
		runs = append(runs, p.Bounds())
	}
	return runs
}

// thread is a path as a linked list, so that vertices leave it in any order.
// Segment i ends at vertex i; the start of an open path is no vertex of it.
type thread struct {
	segs       []geometry.Segment
	from       []geometry.Point
	prev, next []int // −1 at an open end
	last       []int // the vertex of the path at the end of each segment
	gone       []int // vertices of the path that were dropped
	dead       []bool
	queue      vertices
	limit      float64
}

// merged returns p with tiny segments merged and the vertices that were
// dropped; the flattest go first, O(n log n).
func merged(b *budget.Budget, p geometry.Path, limit float64) (path geometry.Path, gone []int) {
	b.Spend(len(p.Segments))
	if !hasTiny(p, limit) {
		return p, nil
	}
	t := newThread(b, p, limit)
	for i := range t.segs {
		t.offer(i)
	}
	heap.Init(&t.queue)
	for t.queue.Len() > 0 {
		b.Step()
		v := heap.Pop(&t.queue).(vertex)
		if off, ok := t.offset(v.i); !ok || off != v.off {
			continue // its neighbours have changed since
		}
		t.drop(v.i)
	}
	if len(t.gone) == 0 {
		return p, nil
	}
	return t.path(p.Closed), t.gone
}

func hasTiny(p geometry.Path, limit float64) bool {
	from := p.Start
	for _, s := range p.Segments {
		if from.Dist(s.End) < limit {
			return true
		}
		from = s.End
	}
	return false
}

func newThread(b *budget.Budget, p geometry.Path, limit float64) *thread {
	n := len(p.Segments)
	t := &thread{limit: limit, dead: make([]bool, n)}
	for i, q := range pieces(p) {
		b.Step()
		if q.flat(limit) {
			q.seg = geometry.LineTo(q.seg.End)
		}
		t.segs, t.from = append(t.segs, q.seg), append(t.from, q.from)
		t.prev, t.next, t.last = append(t.prev, i-1), append(t.next, i+1), append(t.last, i)
	}
	t.next[n-1] = -1
	if p.Closed {
		t.prev[0], t.next[n-1] = n-1, 0
	}
	return t
}

// flat reports whether a tiny curve is as good as its chord.
func (p piece) flat(limit float64) bool {
	if p.straight() || p.from.Dist(p.seg.End) >= limit {
		return p.straight()
	}
	chord := piece{p.from, geometry.LineTo(p.seg.End)}
	for i := 1; i < 8; i++ {
		if _, d, ok := chord.foot(p.at(float64(i) / 8)); !ok || d > strayMM {
			return false
		}
	}
	return true
}

// offset returns how far the end of segment i lies off the line that would
// replace i and the one after it; ok says whether it may be dropped.
func (t *thread) offset(i int) (off float64, ok bool) {
	if t.dead[i] || t.next[i] < 0 {
		return 0, false
	}
	j := t.next[i]
	if j == i || t.next[j] == i || t.segs[i].Kind != geometry.Line || t.segs[j].Kind != geometry.Line {
		return 0, false
	}
	a, b, c := t.from[i], t.segs[i].End, t.segs[j].End
	if a.Dist(b) >= t.limit && b.Dist(c) >= t.limit {
		return 0, false
	}
	chord := piece{a, geometry.LineTo(c)}
	_, off, ok = chord.foot(b)
	return off, ok && off <= strayMM
}

func (t *thread) offer(i int) {
	if i < 0 {
		return
	}
	if off, ok := t.offset(i); ok {
		t.queue = append(t.queue, vertex{i, off, t.segs[i].End})
	}
}

// drop takes out the vertex at the end of segment i.
func (t *thread) drop(i int) {
	j := t.next[i]
	t.gone = append(t.gone, t.last[i])
	t.segs[i].End, t.last[i] = t.segs[j].End, t.last[j]
	t.dead[j] = true
	t.next[i] = t.next[j]
	if n := t.next[j]; n >= 0 {
		t.prev[n] = i
		t.from[n] = t.segs[i].End
	}
	for _, k := range []int{i, t.prev[i]} {
		if k >= 0 {
			if off, ok := t.offset(k); ok {
				heap.Push(&t.queue, vertex{k, off, t.segs[k].End})
			}
		}
	}
}

func (t *thread) path(closed bool) geometry.Path {
	first := 0
	for t.dead[first] {
		first++
	}
	p := geometry.Path{Start: t.from[first], Closed: closed}
	for i := range t.segs {
		if !t.dead[i] {
			p.Segments = append(p.Segments, t.segs[i])
		}
	}
	return p
}

// vertex is a vertex that may be dropped, at the end of segment i.
type vertex struct {
	i   int
	off float64
	at  geometry.Point
}

type vertices []vertex

func (v vertices) Len() int { return len(v) }
func (v vertices) Less(a, b int) bool {
	return cmp.Or(cmp.Compare(v[a].off, v[b].off), comparePoints(v[a].at, v[b].at), cmp.Compare(v[a].i, v[b].i)) < 0
}
func (v vertices) Swap(a, b int) { v[a], v[b] = v[b], v[a] }
func (v *vertices) Push(x any)   { *v = append(*v, x.(vertex)) }
func (v *vertices) Pop() any {
	old := *v
	x := old[len(old)-1]
	*v = old[:len(old)-1]
	return x
}
