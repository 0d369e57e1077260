package exact

import (
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
)

// Settle lets disjoint bodies sink, straight down along y, until each lies on
// another or at its lower limit.
func Settle(b *budget.Budget, bodies []Body) {
	order := make([]int, len(bodies))
	for i := range order {
		order[i] = i
	}
	for range 50 {
		slices.SortStableFunc(order, func(i, k int) int {
			return compare(bodies[i].Y, bodies[k].Y)
		})
		moved := false
		for _, i := range order {
			if d := drop(b, bodies, i); d > 0 {
				bodies[i].Y -= d
				moved = true
			}
		}
		if !moved {
			return
		}
	}
}

func compare(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// drop returns how far body i can sink.
func drop(b *budget.Budget, bodies []Body, i int) int64 {
	a := &bodies[i]
	free := a.Y - a.Low.Y
	for k := range bodies {
		b.Step()
		c := &bodies[k]
		if k == i || c.Y >= a.Y+int64(a.H) || c.Y+int64(c.H) < a.Y-free || c.X >= a.X+int64(a.W) || c.X+int64(c.W) <= a.X {
			continue
		}
		for m := range c.Parts {
			for n := range a.Parts {
				b.Step()
				if d := above(c, a, m, n); d >= 0 {
					free = min(free, d)
				}
			}
		}
	}
	return max(free, 0)
}

// above returns how far part n of a can sink until it lies on part m of c, in whole
// steps; −1 where it is not above that.
func above(c, a *Body, m, n int) int64 {
	dx, dy := a.X-c.X, a.Y-c.Y
	under, over := &c.Spans[m], &a.Spans[n]
	left, right := max(under.Low.X, over.Low.X+dx), min(under.High.X, over.High.X+dx)
	if left >= right || over.High.Y+dy <= under.Low.Y {
		return -1
	}
	p, q := c.Parts[m], a.Parts[n]
	least := int64(math.MaxInt64)
	for _, v := range q {
		if x := v.X + dx; x >= left && x <= right {
			least = min(least, overEdge(p, x, v.Y+dy, true))
		}
	}
	for _, u := range p {
		if u.X >= left && u.X <= right {
			least = min(least, overEdge(q, u.X-dx, u.Y-dy, false))
		}
	}
	if least < 0 {
		return -1
	}
	return least
}

// overEdge returns how far a point lies above the upper border of a convex part,
// or below its lower one, rounded down; the part has the point's x.
func overEdge(part []outline.Point, x, y int64, upper bool) int64 {
	far := int64(math.MaxInt64)
	for i, a := range part {
		b := part[(i+1)%len(part)]
		if upper {
			a, b = b, a // the upper border runs to the left
		}
		if a.X >= b.X || x < a.X || x > b.X {
			continue
		}
		rise := (b.Y - a.Y) * (x - a.X)
		run := b.X - a.X
		if upper {
			far = min(far, floorDiv((y-a.Y)*run-rise, run))
		} else {
			far = min(far, floorDiv(rise-(y-a.Y)*run, run))
		}
	}
	return far
}

// floorDiv returns a/b rounded down, b above 0.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
