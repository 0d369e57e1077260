package weeding

import (
	"runtime"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// split are regions that can be lifted off: those of the map with what relief
// lines make of them.
type split struct{ numbered }

// split adds the relief lines: each hole of a removed region is tied to
// another or to the region's edge, because a ring cannot be lifted over what
// it encloses, and what is longer than a hand is split. Only film on a liner
// is peeled; parts of card drop out.
func (n numbered) split() split {
	s := split{n}
	wanted, cuts := s.req.Relief && s.req.Stock.Liner, s.cells.crossCuts()
	budget.Each(s.budget, runtime.GOMAXPROCS(0), len(s.base), func(own *budget.Budget, i int) {
		b := &s.base[i]
		b.parts = []lump{{rings: b.rings}}
		if wanted && b.class != Kept {
			rings, along := s.opened(own, b, cuts[b.face])
			s.apart(own, b, rings, along)
		}
	})
	stuck := 0
	var places []finding.Place
	for i := range s.base {
		b := &s.base[i]
		s.strokes = append(s.strokes, b.ties...)
		if b.stuck > 0 {
			s.budget.Spend(len(b.rings[0]))
			stuck += b.stuck
			places = append(places, finding.Place{Box: geometry.BoxAround(b.rings[0]...)})
		}
	}
	if stuck > 0 {
		s.find(finding.New(finding.PieceLong, stuck, finding.Values{"hand_mm": finding.Num(s.limits.HandMM)}, places...))
	}
	return s
}

// opened returns the rings of a removed region, those that cuts of the drawing
// join run together along both sides of them, and the half-edges that they run along:
// none along the weed border, which lies outside of the map of the drawing.
func (s *split) opened(own *budget.Budget, b *base, cuts []int32) (rings [][]geometry.Point, along [][]planar.HalfEdge) {
	if b.face == 0 {
		rings, along = b.rings[:1:1], [][]planar.HalfEdge{nil}
	}
	if len(cuts) == 0 {
		return b.rings, append(along, s.cells.boundary(b.face)...)
	}
	for _, walk := range s.cells.walks(own, b.face, cuts) {
		rings, along = append(rings, s.cells.corners(own, walk)), append(along, walk)
	}
	return rings, along
}

// apart ties the holes of a removed region to its first ring, and cuts what is
// left into parts no longer than a hand.
func (s *split) apart(own *budget.Budget, b *base, rings [][]geometry.Point, along [][]planar.HalfEdge) {
	loop := clearance.RoundWalk(rings[0])
	if len(rings) > 1 {
		var ties []clearance.Tie
		loop, ties = clearance.Slit(own, rings...)
		for _, t := range ties {
			b.ties = appendRelief(b.ties, []geometry.Point{t.From, t.To})
		}
	}
	h := hand{budget: own, longest: s.limits.HandMM, clear: s.limits.ClearanceMM}
	b.parts = nil
	for _, walk := range h.split(loop) {
		b.parts = append(b.parts, lump{[][]geometry.Point{walk.Points}, walk.On})
	}
	if len(b.parts) > 1 {
		b.sides = sidesOf(rings, along)
	}
	for _, cut := range h.cuts {
		b.ties = appendRelief(b.ties, cut)
	}
	b.stuck = h.stuck
}

// sidesOf lists the half-edges along rings in one row, noHalfEdge for each side of a ring
// that runs along none.
func sidesOf(rings [][]geometry.Point, along [][]planar.HalfEdge) (all []planar.HalfEdge) {
	for k, ring := range rings {
		if all = append(all, along[k]...); along[k] == nil {
			for range ring {
				all = append(all, noHalfEdge)
			}
		}
	}
	return all
}

// appendRelief adds a relief line, unless it is a single point.
func appendRelief(strokes []artwork.Stroke, path []geometry.Point) []artwork.Stroke {
	if path[0] == path[len(path)-1] {
		return strokes
	}
	return append(strokes, artwork.Stroke{
		Path: geometry.Polyline(path...), Operation: artwork.KissCut, Shape: -1, Added: artwork.Relief,
	})
}
