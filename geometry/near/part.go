package near

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Part is a changing part of the items of a tree. A search of it passes over
// branches that hold none of them, so that it costs what the part holds and not
// what the tree does. Make it with NewPart.
type Part struct {
	t      *Tree
	place  []int32 // of each item in tree order
	within []int32 // how many items of the part each box of the tree holds
}

// NewPart returns a part of t that holds none of its items yet.
func NewPart(b *budget.Budget, t *Tree) *Part {
	p := &Part{t: t, place: make([]int32, len(t.items)), within: make([]int32, len(t.boxes))}
	b.Spend(len(t.items) / 8)
	for k, item := range t.items {
		p.place[item] = int32(k)
	}
	return p
}

// Set puts an item into the part or takes it out of it.
func (p *Part) Set(item int, in bool) {
	k := int(p.place[item])
	if (p.within[k] > 0) == in {
		return
	}
	by := int32(1)
	if !in {
		by = -1
	}
	for _, level := range p.t.levels {
		p.within[level+k] += by
		k /= branch
	}
}

// Each calls visit for every item of the part whose box shares a point with
// box, until visit returns false or the steps that b allows are used up, in the
// order of the tree. Each branch and each item that it comes to is a step. visit
// may change the part; what it puts in may be found or not.
func (p *Part) Each(b *budget.Budget, box geometry.Box, visit func(item int) bool) {
	if root := len(p.within) - 1; root >= 0 && p.within[root] > 0 && p.t.boxes[root].Overlaps(box) && b.Spend(1) {
		p.descend(b, len(p.t.levels)-1, 0, box, visit)
	}
}

func (p *Part) descend(b *budget.Budget, level, i int, box geometry.Box, visit func(int) bool) bool {
	if level == 0 {
		return visit(int(p.t.items[i]))
	}
	low, high := p.t.levels[level-1], p.t.levels[level]
	lo, hi := i*branch, min(high-low, (i+1)*branch)
	for j, n := range p.within[low+lo : low+hi] {
		if n > 0 && p.t.boxes[low+lo+j].Overlaps(box) && !(b.Spend(1) && p.descend(b, level-1, lo+j, box, visit)) {
			return false
		}
	}
	return true
}
