package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
)

// stretches gathers narrow places into necks, below one limit after the other.
type stretches struct {
	*measure
	places []narrow // below the last limit, out of those below the one before
	cell   float64  // within which they were joined; 0: they were not yet
	necks  []Neck   // that they make
}

// below returns the places narrower than limit that lie within it of each other.
// Limits come from the largest to the smallest.
func (t *stretches) below(limit float64) []Neck {
	t.budget.Spend(len(t.places))
	wider := func(n narrow) bool { return max(n.first, n.last) >= limit }
	some := slices.ContainsFunc(t.places, wider)
	if some {
		var places []narrow
		for _, n := range t.places {
			if n, any := n.below(limit); any {
				places = append(places, n)
			}
		}
		t.places = places
	}
	if cell := max(limit, 2*t.spacing); some || cell != t.cell {
		t.cell = cell
		t.necks = t.gather()
	}
	return slices.Clone(t.necks)
}

// gather joins the places that lie within a cell of each other, the narrowest neck
// first.
func (t *stretches) gather() []Neck {
	if len(t.places) == 0 {
		return nil
	}
	group := t.linkNear()
	var necks []Neck
	number := make([]int32, len(t.places)) // of the neck of each root, from 1
	for i := range t.places {
		t.budget.Step()
		p, k := &t.places[i], &number[group.Find(i)]
		if *k == 0 {
			necks = append(necks, Neck{WidthMM: math.Inf(1), Box: geometry.EmptyBox()})
			*k = int32(len(necks))
		}
		necks[*k-1].add(p)
	}
	for i := range necks {
		necks[i].finish()
	}
	slices.SortStableFunc(necks, func(a, b Neck) int {
		t.budget.Step()
		return cmp.Compare(a.WidthMM, b.WidthMM)
	})
	return necks
}

// add takes narrow places into the neck, whose length and area are sums until
// finish.
func (n *Neck) add(p *narrow) {
	n.Box = n.Box.Include(p.from).Include(p.to)
	n.LengthMM += p.share / 2 // each stretch has two sides
	n.AreaMM2 += p.share / 2 * (p.first + p.last) / 2
	if p.first < n.WidthMM {
		n.WidthMM, n.At = p.first, p.from
	}
	if p.last < n.WidthMM {
		n.WidthMM, n.At = p.last, p.to
	}
}

// finish makes the neck no shorter than it is from one end to the other.
func (n *Neck) finish() {
	across, mean := n.Box.Min.Dist(n.Box.Max), n.WidthMM
	if n.LengthMM > 0 {
		mean = n.AreaMM2 / n.LengthMM
	}
	n.LengthMM = max(n.LengthMM, across)
	n.AreaMM2 = n.LengthMM * mean
}

// linkNear joins narrow places whose ends lie in cells that touch. Nothing else
// touches the circles of a stretch between its ends.
func (t *stretches) linkNear() disjoint.Sets {
	l := linking{t.budget, t.cell, disjoint.New(len(t.places)), newCells(2 * len(t.places)), cellAt{math.MaxInt64, 0}}
	for i := range t.places {
		p := &t.places[i]
		l.link(i, p.from)
		if p.to != p.from {
			l.link(i, p.to)
		}
	}
	return l.group
}

// linking joins places by the cells in which they lie.
type linking struct {
	budget *budget.Budget
	cell   float64
	group  disjoint.Sets
	first  cells
	last   cellAt
}

func (l *linking) link(place int, c geometry.Point) {
	k := cellAt{int64(math.Floor(c.X / l.cell)), int64(math.Floor(c.Y / l.cell))}
	if k == l.last { // the place before has met all there is round it
		l.budget.Step()
		l.group.Join(place, int(l.first.at(k)))
		return
	}
	l.last = k
	l.budget.Spend(9) // look-ups
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			if j := l.first.at(cellAt{k.x + dx, k.y + dy}); j >= 0 {
				l.group.Join(place, int(j))
			}
		}
	}
	l.first.put(k, int32(place))
}
