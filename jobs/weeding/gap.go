package weeding

import (
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// bridgeWork draws the strokes of some cells anew where bridges leave gaps in
// them.
type bridgeWork struct {
	budget *budget.Budget
	*cells
	first int            // strokes from this number on are sides of bridges
	strip map[int32]bool // the faces that are bridges
}

// newBridgeWork finds the bridges: the faces to the left of their sides.
func newBridgeWork(b *budget.Budget, c *cells, first int) bridgeWork {
	w := bridgeWork{budget: b, cells: c, first: first, strip: map[int32]bool{}}
	for edge, e := range c.Edges {
		b.Spend(1 + len(c.Sources(int32(edge))))
		for use, line := range c.Sources(int32(edge)) {
			if int(c.stroke[line]) < first {
				continue
			}
			if c.Forward(int32(edge), use) {
				w.strip[e.Left] = true
			} else {
				w.strip[e.Right] = true
			}
		}
	}
	return w
}

// withoutGaps returns the strokes with the bridged ones drawn anew: round what
// is removed, the sides of the bridges included, and without the stretches
// that a bridge leaves uncut. Strokes that no bridge meets, and that close what they
// go round without those that it meets, stay as they are.
func (w bridgeWork) withoutGaps(kept []bool) []artwork.Stroke {
	met := w.met()
	w.spread(met, kept)
	t := newTracer(w.budget, w.cells)
	for edge, e := range w.Edges {
		if kept[e.Left] == kept[e.Right] || !w.anyOf(int32(edge), met) {
			continue
		}
		h := planar.HalfEdge(2 * edge)
		if kept[e.Left] {
			h = h.Twin()
		}
		t.add(h)
	}
	var out []artwork.Stroke
	var like artwork.Stroke
	for i := range w.first {
		if !met[int32(i)] {
			out = append(out, w.strokes[i])
		} else if like.Operation == "" {
			like = w.strokes[i]
		}
	}
	for _, loop := range t.loops() {
		s := like
		s.Path, s.Added, s.Shape, s.Fill = w.path(w.budget, loop), artwork.Bridge, -1, ""
		out = append(out, s)
	}
	return out
}

// met lists the strokes that bridges meet, the bridges' sides included.
func (w bridgeWork) met() map[int32]bool {
	met := map[int32]bool{}
	for i := w.first; i < len(w.strokes); i++ {
		met[int32(i)] = true
	}
	for edge, e := range w.Edges {
		w.budget.Step()
		if w.strip[e.Left] || w.strip[e.Right] {
			for _, line := range w.Sources(int32(edge)) {
				met[w.stroke[line]] = true
			}
		}
	}
	return met
}

func (w bridgeWork) anyOf(edge int32, set map[int32]bool) bool {
	w.budget.Spend(1 + len(w.Sources(edge)))
	return slices.ContainsFunc(w.Sources(edge), func(line int32) bool { return set[w.stroke[line]] })
}

// spread adds to the strokes that bridges meet those that they go on in. What is removed
// may be bounded by several open strokes; loops close only where all of them are drawn anew.
func (w bridgeWork) spread(met map[int32]bool, kept []bool) {
	b := w.bounding(kept)
	for edge := range b.edges {
		if w.anyOf(edge, met) {
			b.take(w.cells, edge)
		}
	}
	for len(b.changed) > 0 { // all that are uneven at a time, so that no order matters
		for _, v := range b.uneven(w.budget) {
			for _, edge := range b.at[v] {
				w.meet(b, met, edge)
			}
		}
	}
}

// meet takes the strokes that run along an edge.
func (w bridgeWork) meet(b *bounds, met map[int32]bool, edge int32) {
	for _, line := range w.Sources(edge) {
		stroke := w.stroke[line]
		w.budget.Step()
		if met[stroke] {
			continue
		}
		met[stroke] = true
		w.budget.Spend(len(b.of[stroke]))
		for _, other := range b.of[stroke] {
			b.take(w.cells, other)
		}
	}
}

// bounds are the edges between what is kept and what is removed, run with what is removed
// on the left.
type bounds struct {
	edges   map[int32]planar.HalfEdge
	at      map[int32][]int32 // by vertex
	of      map[int32][]int32 // by stroke
	taken   map[int32]bool
	balance map[int32]int // by vertex: how many taken edges leave it, less those that enter
	changed []int32       // vertices whose balance has changed
}

func (w bridgeWork) bounding(kept []bool) *bounds {
	b := &bounds{
		edges: map[int32]planar.HalfEdge{}, at: map[int32][]int32{}, of: map[int32][]int32{},
		taken: map[int32]bool{}, balance: map[int32]int{},
	}
	for i, e := range w.Edges {
		edge := int32(i)
		w.budget.Spend(1 + len(w.Sources(edge)))
		if kept[e.Left] == kept[e.Right] {
			continue
		}
		h := planar.HalfEdge(2 * i)
		if kept[e.Left] {
			h = h.Twin()
		}
		b.edges[edge] = h
		b.at[w.Start(h)] = append(b.at[w.Start(h)], edge)
		b.at[w.End(h)] = append(b.at[w.End(h)], edge)
		for _, line := range w.Sources(edge) {
			b.of[w.stroke[line]] = append(b.of[w.stroke[line]], edge)
		}
	}
	return b
}

// take notes that an edge is drawn anew.
func (b *bounds) take(c *cells, edge int32) {
	if b.taken[edge] {
		return
	}
	b.taken[edge] = true
	from, to := c.Start(b.edges[edge]), c.End(b.edges[edge])
	b.balance[from]++
	b.balance[to]--
	b.changed = append(b.changed, from, to)
}

// uneven returns those of the vertices that have changed since it was asked last that not as
// many taken edges enter as leave.
func (b *bounds) uneven(spent *budget.Budget) []int32 {
	changed := b.changed
	b.changed = nil
	return slices.DeleteFunc(changed, func(v int32) bool {
		spent.Step()
		return b.balance[v] == 0
	})
}
