package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/finding"
)

// What bounds nothing, in mm for one stroke (common practice, no source): up to
// unseenMM no cutter can show it, and up to nickMM it is a nick beside a
// contour. Closed outlines have such tails where they run out and back, which
// a fill hides.
const (
	unseenMM = 0.05
	nickMM   = 1
)

// loose is what of one stroke bounds nothing.
type loose struct {
	stroke int32
	length float64
	box    geometry.Box
}

// weighLooseEnds reports cut lines that bound nothing. Slits are common in
// card; in film they mean that an outline is open and its region leaks.
func (s weighing) weighLooseEnds() {
	if len(s.base) == 0 && len(s.cells.Edges) > 0 {
		s.find(finding.New(finding.NothingEnclosed, 1, nil))
	}
	if !s.peeled() {
		return
	}
	var open, nicks []finding.Place
	length, most := 0.0, 0.0
	for _, l := range s.looseEnds(planar.Dangling) {
		switch {
		case l.length <= unseenMM, s.strokes[l.stroke].Slit:
		case l.length <= nickMM:
			nicks = append(nicks, s.place(l.stroke, l.box))
			most = math.Max(most, l.length)
		default:
			open = append(open, s.place(l.stroke, l.box))
			length += l.length
		}
	}
	if len(open) > 0 {
		s.find(finding.New(finding.BoundaryOpen, len(open), finding.Values{"length_mm": finding.Num(length)}, open...))
	}
	if len(nicks) > 0 {
		s.find(finding.New(finding.Nick, len(nicks), finding.Values{"most_mm": finding.Num(most)}, nicks...))
	}
	s.weighSlits()
}

// weighSlits reports cut lines that run across kept film and part nothing.
// Across removed film they are relief lines. Outlines too thin to enclose anything
// are slits by themselves.
func (s weighing) weighSlits() {
	var slits []finding.Place
	length := 0.0
	all := s.looseEnds(planar.Cut)
	for _, l := range s.looseEnds(planar.Dangling) {
		if s.strokes[l.stroke].Slit && l.length > unseenMM {
			all = append(all, l)
		}
	}
	for _, l := range all {
		slits = append(slits, s.place(l.stroke, l.box))
		length += l.length
	}
	if len(slits) > 0 {
		s.find(finding.New(finding.KeptSlit, len(slits), finding.Values{"length_mm": finding.Num(length)}, slits...))
	}
}

// looseEnds gathers the edges of a role, cuts only where they cross kept film,
// by the drawn stroke they come from, in the order in which the map meets them.
func (s weighing) looseEnds(role planar.Role) []loose {
	var out []loose
	number := map[int32]int{}
	for i, e := range s.cells.Edges {
		s.budget.Step()
		if e.Role != role || role == planar.Cut && !s.kept[e.Left] {
			continue
		}
		stroke := s.cells.stroke[s.cells.Sources(int32(i))[0]]
		if s.strokes[stroke].Added != "" || s.strokes[stroke].Slit && !s.kept[e.Left] {
			continue
		}
		n, known := number[stroke]
		if !known {
			n, number[stroke] = len(out), len(out)
			out = append(out, loose{stroke: stroke, box: geometry.EmptyBox()})
		}
		l := &out[n]
		l.length += s.cells.EdgeLength(int32(i))
		l.box = l.box.Include(s.cells.Point(e.From)).Include(s.cells.Point(e.To))
	}
	return out
}
