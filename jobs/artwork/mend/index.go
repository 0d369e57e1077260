package mend

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// index finds the boxes that overlap a given one: a packed tree, filled once.
// Building takes O(n log n); a query visits the branches it overlaps.
type index struct {
	boxes  []geometry.Box // of the items in tree order, then of each level above
	items  []int32        // the items in tree order
	levels []int          // where each level begins in boxes
	effort *Effort
}

const branch = 8

// newIndex packs n boxes in slices: sorted by x, cut into strips, each strip
// sorted by y (sort-tile-recursive packing; Leutenegger and others, 1997).
func newIndex(boxes []geometry.Box, e *Effort) *index {
	n := len(boxes)
	order := make([]packed, n)
	for i, b := range boxes {
		order[i] = packed{b.Min.X + b.Max.X, int32(i)}
	}
	slices.SortFunc(order, packed.compare)
	strips := int(math.Ceil(math.Sqrt(float64(n) / branch)))
	size := branch * max(1, (n+branch*max(1, strips)-1)/(branch*max(1, strips)))
	for lo := 0; lo < n; lo += size {
		strip := order[lo:min(n, lo+size)]
		for k, p := range strip {
			strip[k].key = boxes[p.item].Min.Y + boxes[p.item].Max.Y
		}
		slices.SortFunc(strip, packed.compare)
	}
	t := &index{items: make([]int32, n), levels: []int{0}, effort: e, boxes: make([]geometry.Box, 0, n+n/(branch-1)+2)}
	for k, p := range order {
		t.items[k] = p.item
		t.boxes = append(t.boxes, boxes[p.item])
	}
	t.raise()
	return t
}

// packed is an item with the key it is sorted by.
type packed struct {
	key  float64
	item int32
}

func (p packed) compare(q packed) int {
	return cmp.Or(cmp.Compare(p.key, q.key), cmp.Compare(p.item, q.item))
}

// raise builds the levels above the items, each box holding branch below it.
func (t *index) raise() {
	for lo := 0; len(t.boxes)-lo > 1; {
		hi := len(t.boxes)
		t.levels = append(t.levels, hi)
		for i := lo; i < hi; i += branch {
			b := t.boxes[i]
			for _, c := range t.boxes[i+1 : min(hi, i+branch)] {
				b = b.Union(c)
			}
			t.boxes = append(t.boxes, b)
		}
		lo = hi
	}
}

// each calls visit for every item whose box overlaps b, until it returns
// false or the effort is used up.
func (t *index) each(b geometry.Box, visit func(item int) bool) {
	if len(t.boxes) == 0 {
		return
	}
	looks := 0
	t.descend(len(t.levels)-1, 0, b, func(item int) bool {
		looks++
		return visit(item)
	})
	t.effort.search(looks, b)
}

func (t *index) descend(level, i int, b geometry.Box, visit func(int) bool) bool {
	if !t.boxes[t.levels[level]+i].Overlaps(b) {
		return true
	}
	if !t.effort.spend(1) {
		return false
	}
	if level == 0 {
		return visit(int(t.items[i]))
	}
	below := t.levels[level] - t.levels[level-1]
	for j := i * branch; j < min(below, (i+1)*branch); j++ {
		if !t.descend(level-1, j, b, visit) {
			return false
		}
	}
	return true
}
