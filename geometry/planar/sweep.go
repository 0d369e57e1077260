package planar

import "slices"

// item is a segment within one strip: lo and hi bound the y of the nodes of
// the strip whose pixels it can meet.
type item struct {
	segment
	lo, hi int32
	id     int32
}

// hit says that a segment meets the pixel of a vertex.
type hit struct{ seg, vertex int32 }

// sweeper snaps the segments of one strip after another. The hot pixels of a
// strip are those that hold an end of a segment or a crossing of two; every
// one becomes a vertex, and every segment that meets it is bent to its middle.
type sweeper struct {
	vertices []node
	hits     []hit

	items, sorted []item
	keys, spare   []uint64
	active        []int32
	hot           []uint64
}

// snap handles the strip x0 ≤ x < x1, which the listed segments reach.
func (w *sweeper) snap(segs []segment, ids []int32, x0, x1 int32) {
	w.load(segs, ids, x0, x1)
	w.hot = w.hot[:0]
	for i := range w.sorted {
		t := &w.sorted[i]
		w.heat(t.a, x0, x1)
		w.heat(t.b, x0, x1)
	}
	w.cross(x0, x1)
	w.sortHot()
	w.meet()
}

// load fills sorted with the items of the strip by rising lo.
func (w *sweeper) load(segs []segment, ids []int32, x0, x1 int32) {
	w.items, w.keys = w.items[:0], w.keys[:0]
	for i, id := range ids {
		s := segs[id]
		lo, hi := s.reachY(x0, x1)
		w.items = append(w.items, item{s, lo, hi, id})
		w.keys = append(w.keys, uint64(sortable(lo))<<32|uint64(i))
	}
	w.keys, w.spare = byHigh(w.keys, w.spare)
	w.sorted = w.sorted[:0]
	for _, k := range w.keys {
		w.sorted = append(w.sorted, w.items[uint32(k)])
	}
}

// heat makes the pixel of p hot if the strip owns it.
func (w *sweeper) heat(p node, x0, x1 int32) {
	if p.x >= x0 && p.x < x1 {
		w.hot = append(w.hot, uint64(sortable(p.y))<<32|uint64(sortable(p.x)))
	}
}

// cross heats the pixels of all crossings in the strip. Two segments that
// cross in a pixel of the strip both reach its y, so they are active together.
func (w *sweeper) cross(x0, x1 int32) {
	active := w.active[:0]
	for i := range w.sorted {
		t := &w.sorted[i]
		kept := active[:0]
		for _, j := range active {
			s := &w.sorted[j]
			if s.hi < t.lo {
				continue
			}
			kept = append(kept, j)
			if s.a.x > t.b.x || t.a.x > s.b.x {
				continue
			}
			if p, ok := s.crossing(t.segment); ok {
				w.heat(p, x0, x1)
			}
		}
		active = append(kept, int32(i))
	}
	w.active = active
}

// sortHot sorts the hot pixels by y, then x, and drops repetitions.
func (w *sweeper) sortHot() {
	w.hot, w.spare = byHigh(w.hot, w.spare)
	for i := 0; i < len(w.hot); {
		j := i + 1
		for j < len(w.hot) && w.hot[j]>>32 == w.hot[i]>>32 {
			j++
		}
		if j > i+1 {
			slices.Sort(w.hot[i:j])
		}
		i = j
	}
	w.hot = slices.Compact(w.hot)
}

// meet makes every hot pixel a vertex and finds the segments that meet it.
func (w *sweeper) meet() {
	active, added := w.active[:0], 0
	for _, h := range w.hot {
		p := node{unsortable(uint32(h)), unsortable(uint32(h >> 32))}
		for ; added < len(w.sorted) && w.sorted[added].lo <= p.y; added++ {
			active = append(active, int32(added))
		}
		v := int32(len(w.vertices))
		w.vertices = append(w.vertices, p)
		kept := active[:0]
		for _, j := range active {
			s := &w.sorted[j]
			if s.hi < p.y {
				continue
			}
			kept = append(kept, j)
			if s.touches(p) {
				w.hits = append(w.hits, hit{s.id, v})
			}
		}
		active = kept
	}
	w.active = active
}
