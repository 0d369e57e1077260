package near

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Tree finds the boxes that overlap a given one: a packed tree, filled once.
// Make it with NewTree.
type Tree struct {
	boxes  []geometry.Box // of the items in tree order, then of each level above
	items  []int32        // the items in tree order
	levels []int          // where each level begins in boxes
}

// branch is how many boxes each box of the tree holds.
const branch = 8

// NewTree returns the tree of boxes, whose places in the list are the numbers
// of the items. They are packed in slices: sorted by x, cut into strips, each
// strip sorted by y (sort-tile-recursive packing; Leutenegger, Lopez and
// Edgington, 1997). It takes O(n log n) steps.
func NewTree(b *budget.Budget, boxes []geometry.Box) *Tree {
	n := len(boxes)
	order := make([]packed, n)
	for i, box := range boxes {
		order[i] = packed{box.Min.X + box.Max.X, int32(i)}
	}
	compare := func(p, q packed) int {
		b.Step()
		return p.compare(q)
	}
	slices.SortFunc(order, compare)
	strips := int(math.Ceil(math.Sqrt(float64(n) / branch)))
	size := branch * max(1, (n+branch*max(1, strips)-1)/(branch*max(1, strips)))
	for lo := 0; lo < n; lo += size {
		strip := order[lo:min(n, lo+size)]
		for k, p := range strip {
			strip[k].key = boxes[p.item].Min.Y + boxes[p.item].Max.Y
		}
		slices.SortFunc(strip, compare)
	}
	t := &Tree{items: make([]int32, n), levels: []int{0}, boxes: make([]geometry.Box, 0, n+n/(branch-1)+2)}
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
func (t *Tree) raise() {
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

// Each calls visit for every item whose box shares a point with box, until
// visit returns false or the steps that b allows are used up. Each branch and
// each item that it comes to is a step.
func (t *Tree) Each(b *budget.Budget, box geometry.Box, visit func(item int) bool) {
	if root := len(t.boxes) - 1; root >= 0 && t.boxes[root].Overlaps(box) && b.Spend(1) {
		t.descend(b, len(t.levels)-1, 0, box, visit)
	}
}

// descend visits what lies below box i of a level, which is not that of the
// items unless there is one item only.
func (t *Tree) descend(b *budget.Budget, level, i int, box geometry.Box, visit func(int) bool) bool {
	if level == 0 {
		return visit(int(t.items[i]))
	}
	low, high := t.levels[level-1], t.levels[level]
	lo, hi := i*branch, min(high-low, (i+1)*branch)
	for j, below := range t.boxes[low+lo : low+hi] {
		if below.Overlaps(box) && !(b.Spend(1) && t.descend(b, level-1, lo+j, box, visit)) {
			return false
		}
	}
	return true
}
