package planar

import (
	"slices"

	"knifedesk/geometry/budget"
)

// item is a segment within one strip: lo and hi bound the keys of the nodes
// of the strip whose pixels it can meet.
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
	budget   *budget.Budget
	vertices []node
	hits     []hit

	shear       shear
	x0, x1      int32
	items       []item // by rising lo
	hot         []node
	keys, spare []uint64
	active      []int32
	unsorted    []item
}

// snap handles the strip x0 ≤ x < x1, which the listed segments reach.
func (w *sweeper) snap(segs []segment, ids []int32, x0, x1 int32) {
	w.budget.Spend(len(ids))
	w.load(segs, ids, x0, x1, shearFor(segs, ids, x0, x1))
	w.hot = w.hot[:0]
	for i := range w.items {
		w.heat(w.items[i].a)
		w.heat(w.items[i].b)
	}
	w.cross()
	w.sortHot()
	w.meet()
}

// load makes the items of the strip.
func (w *sweeper) load(segs []segment, ids []int32, x0, x1 int32, h shear) {
	w.x0, w.x1, w.shear = x0, x1, h
	w.unsorted, w.keys = w.unsorted[:0], w.keys[:0]
	w.budget.Spend(len(ids))
	for i, id := range ids {
		s := segs[id]
		lo, hi := h.span(s, x0, x1)
		w.unsorted = append(w.unsorted, item{s, lo, hi, id})
		w.keys = append(w.keys, uint64(sortable(lo))<<32|uint64(i))
	}
	w.keys, w.spare = byHigh(w.keys, w.spare)
	w.items = w.items[:0]
	for _, k := range w.keys {
		w.items = append(w.items, w.unsorted[uint32(k)])
	}
}

// heat makes the pixel of p hot if the strip owns it.
func (w *sweeper) heat(p node) {
	if p.x >= w.x0 && p.x < w.x1 {
		w.hot = append(w.hot, p)
	}
}

// cross heats the pixels of all crossings in the strip. Two segments that
// cross in a pixel of the strip both reach its key, so they are active together.
func (w *sweeper) cross() {
	active := w.active[:0]
	for i := range w.items {
		t := &w.items[i]
		w.budget.Spend(1 + len(active))
		kept := active[:0]
		for _, j := range active {
			s := &w.items[j]
			if s.hi < t.lo {
				continue
			}
			kept = append(kept, j)
			if s.a.x > t.b.x || t.a.x > s.b.x {
				continue
			}
			if p, ok := s.crossing(t.segment); ok {
				w.heat(p)
			}
		}
		active = append(kept, int32(i))
	}
	w.active = active
}

// sortHot fills keys with the indices of the hot pixels by rising key, and
// those of equal key by their nodes.
func (w *sweeper) sortHot() {
	w.budget.Spend(len(w.hot))
	w.keys = w.keys[:0]
	for i, p := range w.hot {
		w.keys = append(w.keys, uint64(sortable(w.shear.key(p)))<<32|uint64(i))
	}
	w.keys, w.spare = byHigh(w.keys, w.spare)
	for i := 0; i < len(w.keys); {
		j := i + 1
		for j < len(w.keys) && w.keys[j]>>32 == w.keys[i]>>32 {
			j++
		}
		if j > i+1 {
			slices.SortFunc(w.keys[i:j], func(a, b uint64) int {
				w.budget.Step()
				return w.hot[uint32(a)].compare(w.hot[uint32(b)])
			})
		}
		i = j
	}
}

// meet makes every hot pixel a vertex and finds the segments that meet it.
func (w *sweeper) meet() {
	active, added := w.active[:0], 0
	for i, k := range w.keys {
		p := w.hot[uint32(k)]
		if i > 0 && p == w.hot[uint32(w.keys[i-1])] {
			continue
		}
		key := unsortable(uint32(k >> 32))
		for ; added < len(w.items) && w.items[added].lo <= key; added++ {
			active = append(active, int32(added))
		}
		w.budget.Spend(1 + len(active))
		v := int32(len(w.vertices))
		w.vertices = append(w.vertices, p)
		kept := active[:0]
		for _, j := range active {
			s := &w.items[j]
			if s.hi < key {
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
