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
// that a bridge leaves uncut. Strokes that no bridge meets stay as they are.
func (w bridgeWork) withoutGaps(kept []bool) []artwork.Stroke {
	met := w.met()
	t := tracer{budget: w.budget, c: w.cells, out: map[int32][]planar.HalfEdge{}}
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
