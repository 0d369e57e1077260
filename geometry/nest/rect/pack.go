package rect

import (
	"math"

	"knifedesk/geometry/budget"
)

// packer builds packings along the skyline.
type packer struct {
	budget *budget.Budget
	items  []Item
	turned []Item // each item turned; the same where it may not be
	width  int64
	area   int64 // of all items
	line   skyline
	next   []int32 // the item of the sequence after this one that is not placed yet; the last is the head
	places []Place
}

func newPacker(b *budget.Budget, items []Item, width int64) *packer {
	p := &packer{budget: b, items: items, width: width, next: make([]int32, len(items)+1), places: make([]Place, len(items))}
	for _, i := range items {
		ways := i.ways()
		p.turned = append(p.turned, ways[len(ways)-1])
		p.area += i.area()
	}
	return p
}

// choice is one item as it may lie on the lowest stretch.
type choice struct {
	score  int64
	before int32 // the item before it in what is left of the sequence; −1: no choice
	turned bool
	right  bool // at the right end of the stretch
}

// pack places the items in the order of a sequence below an end, and returns the area
// of those that it has no place for. It gives up where more than most is left out.
func (p *packer) pack(sequence []int, end, most int64) int64 {
	head := int32(len(sequence))
	for i := range p.next {
		p.next[i] = int32(i + 1)
	}
	p.next[head] = 0
	p.line = append(p.line[:0], rise{0, 0, p.width})
	out, wasted, slack := p.area, int64(0), p.room(end)-p.area
	for out > 0 && wasted-slack <= most {
		at, left, right := p.line.lowest(end)
		low := p.line[at]
		if low.y >= end {
			return out
		}
		c := p.best(sequence, low, end, left, right)
		if c.before < 0 {
			if len(p.line) == 1 {
				return out
			}
			by := min(left, right)
			wasted += by * low.w
			p.line = p.line.raised(at, by)
			continue
		}
		i := p.next[c.before]
		p.next[c.before] = p.next[i]
		id := sequence[i]
		it := p.items[id]
		if c.turned {
			it = p.turned[id]
		}
		out -= it.area()
		var x int64
		p.line, x = p.line.covered(at, it.W, it.H, c.right)
		p.places[id] = Place{x, low.y, c.turned}
	}
	return out
}

// room is the area of the strip below an end; endless where it does not matter.
func (p *packer) room(end int64) int64 {
	if end > math.MaxInt64/p.width/2 {
		return math.MaxInt64 / 2
	}
	return end * p.width
}

// best returns which of the items that are left fits best on a stretch.
func (p *packer) best(sequence []int, low rise, end, left, right int64) choice {
	head := int32(len(sequence))
	narrow, steps := int64(math.MaxInt64), 0
	for i := p.next[head]; i < head; i = p.next[i] {
		steps++
		narrow = min(narrow, p.items[sequence[i]].W, p.turned[sequence[i]].W)
	}
	p.budget.Spend(steps)
	best := choice{score: math.MinInt64, before: -1}
	before := head
	for i := p.next[head]; i < head; i = p.next[i] {
		id := sequence[i]
		it := p.items[id]
		for way := range 2 {
			if way == 1 {
				if p.turned[id] == it {
					break
				}
				it = p.turned[id]
			}
			if it.W > low.w || it.H > end-low.y {
				continue
			}
			if s, atRight := score(it, low.w, left, right, narrow); s > best.score {
				best = choice{s, before, way == 1, atRight}
			}
		}
		before = i
	}
	return best
}

// score says how well an item fits on a stretch, and at which end: by the sides that
// it lies flush with, less the room beside it that is too narrow for any other.
func score(it Item, width, left, right, narrow int64) (score int64, atRight bool) {
	if it.W == width {
		score = 2
		if it.H == left {
			score++
		}
		if it.H == right {
			score++
		}
		return score, false
	}
	switch {
	case it.H == left && (left >= right || it.H != right):
		score = 1
	case it.H == right:
		score, atRight = 1, true
	default:
		atRight = right > left
	}
	if beside := width - it.W; beside < narrow {
		wall := right
		if atRight {
			wall = left
		}
		score -= 4 * beside * min(it.H, wall)
	}
	return score, atRight
}
