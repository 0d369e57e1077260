package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// Bounds of the search for frames of loose lines, so that a drawing of a
// million lines costs no more than one of a thousand.
const (
	maxLooseLines  = 2000  // the longest are looked at
	maxLooseSteps  = 40000 // of the search
	maxJoinedSteps = 4000  // of that by sides in several lines
	maxLooseChain  = 16    // lines in one frame
	nearEnds       = 2e-3  // gap between ends against the drawing's diagonal
)

// edge is a straight run of an open path that may be a side of a frame.
type edge struct {
	run
	long        float64
	shape, path int
	of          []edge // those that it is joined of
}

// parts lists the segments of the drawing that the edge is made of.
func (e edge) parts() []Part {
	var all []Part
	for _, one := range e.of {
		all = append(all, one.parts()...)
	}
	if len(all) > 0 {
		return all
	}
	p := Part{Shape: e.shape, Path: e.path}
	for i := e.lo; i <= e.hi; i++ {
		p.Segments = append(p.Segments, i)
	}
	return []Part{p}
}

// looseSearch follows near ends from line to line, turning one way by right
// angles, until it is back where it began.
type looseSearch struct {
	budget  *budget.Budget
	edges   []edge
	near    *near.Grid // ends, by their numbers
	gap     float64
	steps   int    // that are left
	chain   []int  // edges in use, in order
	turned  []bool // how each is run: to→from
	found   []Quad
	missing []Quad // a side short
}

// looseQuads returns the rectangles drawn by loose lines of open paths, and
// those with one side missing.
func looseQuads(b *budget.Budget, edges []edge, diagonal float64) (found, missing []Quad) {
	slices.SortStableFunc(edges, func(d, e edge) int {
		b.Step()
		return cmp.Compare(e.long, d.long)
	})
	if len(edges) > maxLooseLines {
		edges = edges[:maxLooseLines]
	}
	gap := nearEnds * diagonal
	if gap <= 0 || len(edges) == 0 {
		return nil, nil
	}
	s := &looseSearch{budget: b, gap: gap, steps: maxLooseSteps}
	s.search(edges, len(edges))
	joined := joinedEdges(b, edges, gap)
	s.steps = maxJoinedSteps
	s.search(append(joined, edges...), len(joined))
	return s.found, s.missing
}

// search looks for rectangles that begin with one of the first edges.
func (s *looseSearch) search(edges []edge, first int) {
	s.edges, s.near = edges, near.NewGrid(s.gap, geometry.Point{})
	for i, e := range edges {
		s.near.Add(2*i, e.from)
		s.near.Add(2*i+1, e.to)
	}
	for i := range first {
		for _, back := range []bool{false, true} {
			s.chain, s.turned = append(s.chain[:0], i), append(s.turned[:0], back)
			s.follow(0)
		}
	}
}

// way returns link k of the chain as it is run.
func (s *looseSearch) way(k int) run {
	e := s.edges[s.chain[k]].run
	if s.turned[k] {
		e.from, e.to = e.to, e.from
	}
	return e
}

// follow extends the chain, which has made the given number of left turns.
func (s *looseSearch) follow(turns int) {
	s.steps--
	if s.steps < 0 || len(s.chain) > maxLooseChain {
		return
	}
	last := s.way(len(s.chain) - 1)
	if turns >= 2 {
		s.close(turns)
	}
	s.near.Near(s.budget, last.to, s.gap, func(end int) { s.try(end, last, turns) })
}

// try goes on from last by the end 2·edge of a line's start or 2·edge+1 of its
// end, which is near.
func (s *looseSearch) try(end int, last run, turns int) {
	number, back := end/2, end%2 == 1
	if slices.Contains(s.chain, number) {
		return
	}
	next := s.edges[number].run
	if back {
		next.from, next.to = next.to, next.from
	}
	turn, ok := leftTurn(last, next)
	if !ok || turns+turn > 3 {
		return
	}
	s.chain, s.turned = append(s.chain, number), append(s.turned, back)
	s.follow(turns + turn)
	s.chain, s.turned = s.chain[:len(s.chain)-1], s.turned[:len(s.turned)-1]
}

// leftTurn returns 1 where b turns left by a right angle from a, 0 where it
// goes straight on, and false otherwise.
func leftTurn(a, b run) (int, bool) {
	d, e := a.to.Sub(a.from).Unit(), b.to.Sub(b.from).Unit()
	switch {
	case math.Abs(d.Dot(e)) <= quadCos && d.Cross(e) > 0:
		return 1, true
	case d.Dot(e) > 0 && math.Abs(d.Cross(e)) <= 0.01:
		return 0, true
	}
	return 0, false
}

// close keeps the rectangle where the chain has come round, and the one with a
// side missing where two turns leave two legs of one length.
func (s *looseSearch) close(turns int) {
	first, last := s.way(0), s.way(len(s.chain)-1)
	sides := s.sides()
	if turns == 3 {
		corner, ok := leftTurn(last, first)
		if last.to.Dist(first.from) > s.gap || !ok || corner != 1 {
			return
		}
		if q, ok := quadOfSides(sides); ok {
			s.found = append(s.found, s.named(q))
		}
		return
	}
	if len(sides) != 3 || math.Abs(length(sides[0])-length(sides[2])) > 0.005*length(sides[0]) {
		return
	}
	sides = append(sides, run{from: last.to, to: first.from})
	if q, ok := quadOfSides(sides); ok {
		q.Missing = true
		s.missing = append(s.missing, s.named(q))
	}
}

func length(r run) float64 { return r.from.Dist(r.to) }

// sides joins the links of the chain that go straight on.
func (s *looseSearch) sides() []run {
	var sides []run
	for k := range s.chain {
		w := s.way(k)
		if k > 0 {
			if turn, ok := leftTurn(s.way(k-1), w); ok && turn == 0 {
				sides[len(sides)-1].to = w.to
				continue
			}
		}
		sides = append(sides, w)
	}
	return sides
}

// named returns q with the parts of the drawing that the chain runs through.
func (s *looseSearch) named(q Quad) Quad {
	q.Loose = true
	for _, i := range s.chain {
		q.Parts = append(q.Parts, s.edges[i].parts()...)
	}
	q.Parts = mergeParts(q.Parts)
	return q
}

// mergeParts joins the parts of one path and sorts them.
func mergeParts(parts []Part) []Part {
	slices.SortStableFunc(parts, func(a, b Part) int {
		return cmp.Or(cmp.Compare(a.Shape, b.Shape), cmp.Compare(a.Path, b.Path))
	})
	var out []Part
	for _, p := range parts {
		if n := len(out); n > 0 && out[n-1].Shape == p.Shape && out[n-1].Path == p.Path {
			if out[n-1].Segments == nil || p.Segments == nil {
				out[n-1].Segments = nil
			} else {
				out[n-1].Segments = append(slices.Clone(out[n-1].Segments), p.Segments...)
			}
			continue
		}
		out = append(out, p)
	}
	for i := range out {
		slices.Sort(out[i].Segments)
		out[i].Segments = slices.Compact(out[i].Segments)
	}
	return out
}
