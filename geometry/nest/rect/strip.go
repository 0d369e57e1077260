package rect

import "knifedesk/geometry/budget"

// Item is a rectangle of W across the strip and H along it, in any whole unit, at
// most 2³¹ − 1; where Turn is set it may also lie turned by 90°.
type Item struct {
	W, H int64
	Turn bool
}

// area is that of the rectangle.
func (i Item) area() int64 { return i.W * i.H }

// ways returns the item as it may lie: one way or two.
func (i Item) ways() []Item {
	if i.Turn && i.W != i.H {
		return []Item{i, {i.H, i.W, i.Turn}}
	}
	return []Item{i}
}

// Place is where a rectangle lies: its lower left corner.
type Place struct {
	X, Y   int64
	Turned bool
}

// Packing is where all rectangles lie, by their place in the list, and how far along
// the strip they reach.
type Packing struct {
	Places []Place
	Height int64
}

// Effort is how long is searched.
type Effort struct {
	Steps int    // looks at one rectangle for one place; 0: what Quick has
	Seed  uint64 // of the swaps
}

// Quick is enough for what is asked in passing: a few hundredths of a second.
func Quick() Effort { return Effort{Steps: 5_000_000} }

// Thorough takes some seconds of processor time.
func Thorough() Effort { return Effort{Steps: 300_000_000} }

// Strip packs rectangles into a strip of a width, as short as it finds a way to. It
// returns false where one of them is wider than the strip. The same call gives the same
// packing. It stops when the area allows no shorter one.
func Strip(b *budget.Budget, items []Item, width int64, effort Effort) (Packing, bool) {
	if len(items) == 0 {
		return Packing{}, true
	}
	for _, i := range items {
		if i.W < 1 || i.H < 1 || min(i.W, narrowest(i)) > width || i.W > width && !i.Turn {
			return Packing{}, false
		}
	}
	if effort.Steps == 0 {
		effort.Steps = Quick().Steps
	}
	s := &search{
		packer: newPacker(b, items, width), low: Bound(items, width),
		steps: b.Allow(effort.Steps), random: random(effort.Seed),
	}
	s.start()
	s.exactly()
	s.shorten()
	return s.best, true
}

// narrowest is the narrowest way of an item across the strip.
func narrowest(i Item) int64 {
	if i.Turn {
		return min(i.W, i.H)
	}
	return i.W
}

// Bound returns a length that no packing goes below: that of the area over the whole
// width, and of the longest rectangle.
func Bound(items []Item, width int64) int64 {
	area, longest := int64(0), int64(0)
	for _, i := range items {
		area += i.area()
		least := i.H
		if i.Turn && i.H <= width {
			least = min(i.W, i.H)
		}
		longest = max(longest, least)
	}
	return max(longest, (area+width-1)/width)
}
