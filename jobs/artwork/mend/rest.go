package mend

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// run is an unbroken stretch of a stroke that is left, with the pieces of
// other strokes that took over before and after it.
type run struct {
	pieces        []piece
	before, after *piece
}

// rest returns the paths that are left of stroke s once the covers are gone.
func (w *sweep) rest(s int, gone [][]cover) []geometry.Path {
	path := w.strokes[s].Path
	if gone == nil {
		return []geometry.Path{path}
	}
	runs := w.runs(s, gone)
	if n := len(runs); path.Closed && n > 1 && runs[0].before == nil && runs[n-1].after == nil {
		runs[0] = run{append(runs[n-1].pieces, runs[0].pieces...), runs[n-1].before, runs[0].after}
		runs = runs[:n-1]
	}
	var paths []geometry.Path
	for _, r := range runs {
		paths = append(paths, w.joinedOn(r))
	}
	return paths
}

func (w *sweep) runs(s int, gone [][]cover) []run {
	var runs []run
	lo, closed := w.first[s], w.strokes[s].Path.Closed
	open := false // the last run reaches the end of the piece before
	for i := range gone {
		for k, sp := range w.left[lo+i] {
			if !open || k > 0 || sp.lo > 0 {
				runs = append(runs, run{before: w.takerBefore(lo, gone, i, sp.lo, closed)})
			}
			r := &runs[len(runs)-1]
			r.pieces = append(r.pieces, w.pieces[lo+i].part(sp.lo, sp.hi))
			r.after = w.takerAfter(lo, gone, i, sp.hi, closed)
			open = sp.hi == 1
		}
		open = open && len(w.left[lo+i]) > 0
	}
	return runs
}

// takerBefore returns the piece that covers what lies just before parameter t
// of piece i; nil where the stroke begins there or goes on.
func (w *sweep) takerBefore(lo int, gone [][]cover, i int, t float64, closed bool) *piece {
	if t == 0 {
		if i--; i < 0 {
			if !closed {
				return nil
			}
			i = len(gone) - 1
		}
		if l := w.left[lo+i]; len(l) > 0 && l[len(l)-1].hi == 1 {
			return nil
		}
		t = 1
	}
	w.effort.steps().Spend(1 + len(gone[i])/8)
	var best *cover
	for k := range gone[i] {
		if c := &gone[i][k]; c.hi <= t && (best == nil || c.hi > best.hi) {
			best = c
		}
	}
	return by(best)
}

// takerAfter is takerBefore for what lies just after t.
func (w *sweep) takerAfter(lo int, gone [][]cover, i int, t float64, closed bool) *piece {
	if t == 1 {
		if i++; i == len(gone) {
			if !closed {
				return nil
			}
			i = 0
		}
		if l := w.left[lo+i]; len(l) > 0 && l[0].lo == 0 {
			return nil
		}
		t = 0
	}
	w.effort.steps().Spend(1 + len(gone[i])/8)
	var best *cover
	for k := range gone[i] {
		if c := &gone[i][k]; c.lo >= t && (best == nil || c.lo < best.lo) {
			best = c
		}
	}
	return by(best)
}

func by(c *cover) *piece {
	if c == nil {
		return nil
	}
	return &c.by
}

// joinedOn returns r as a path whose broken ends lie on the lines that took
// over, so that no boundary leaks there.
func (w *sweep) joinedOn(r run) geometry.Path {
	if r.before != nil {
		r.pieces[0] = r.pieces[0].startingAt(w.snap(r.pieces[0].from, *r.before))
	}
	if n := len(r.pieces) - 1; r.after != nil {
		r.pieces[n] = r.pieces[n].endingAt(w.snap(r.pieces[n].seg.End, *r.after))
	}
	path := geometry.Path{Start: r.pieces[0].from}
	for _, p := range r.pieces {
		path.Segments = append(path.Segments, p.seg)
	}
	return path
}

// snap returns the point of by that stands for p: an end where p is as good as
// there, else the nearest point.
func (w *sweep) snap(p geometry.Point, by piece) geometry.Point {
	end := by.from
	if p.Dist(by.seg.End) < p.Dist(end) {
		end = by.seg.End
	}
	t, _, ok := by.foot(p)
	if !ok || p.Dist(end) <= 2*w.lim.OverlapMM {
		return end
	}
	return by.at(t)
}

// startingAt returns p with its start moved to q, its direction there kept.
func (p piece) startingAt(q geometry.Point) piece {
	p.seg.C1 = p.seg.C1.Add(q.Sub(p.from))
	p.from = q
	return p.normal()
}

// endingAt returns p with its end moved to q, its direction there kept.
func (p piece) endingAt(q geometry.Point) piece {
	p.seg.C2 = p.seg.C2.Add(q.Sub(p.seg.End))
	p.seg.End = q
	return p.normal()
}

// normal clears what only cubics have, so that equal pieces compare equal.
func (p piece) normal() piece {
	if p.seg.Kind != geometry.Cubic {
		p.seg.C1, p.seg.C2 = geometry.Point{}, geometry.Point{}
	}
	return p
}

// rebuilt returns the strokes with their paths replaced by parts. The shapes
// in shared lose their fill.
func rebuilt(strokes []artwork.Stroke, parts [][]geometry.Path, shared map[int]bool) []artwork.Stroke {
	out := make([]artwork.Stroke, 0, len(strokes))
	for i, s := range strokes {
		if shared[s.Shape] {
			s.Fill = ""
		}
		for _, p := range parts[i] {
			s.Path = p
			out = append(out, s)
		}
	}
	return out
}

func compareSpans(a, b cover) int {
	return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi), comparePieces(a.by, b.by))
}

func comparePieces(a, b piece) int {
	return cmp.Or(comparePoints(a.from, b.from), comparePoints(a.seg.End, b.seg.End), cmp.Compare(a.seg.Kind, b.seg.Kind))
}

// placeOf says where on the drawing a fault of s lies.
func placeOf(s *artwork.Stroke, box geometry.Box) finding.Place {
	p := finding.Place{Box: box, Layer: s.Layer}
	if len(s.Sources) > 0 {
		p.Source = s.Sources[0].String()
	}
	return p
}

func comparePlaces(a, b finding.Place) int {
	return cmp.Or(comparePoints(a.Box.Min, b.Box.Min), comparePoints(a.Box.Max, b.Box.Max),
		cmp.Compare(a.Layer, b.Layer), cmp.Compare(a.Source, b.Source))
}

func sortedPlaces(b *budget.Budget, places []finding.Place) []finding.Place {
	slices.SortFunc(places, func(p, q finding.Place) int {
		b.Step()
		return comparePlaces(p, q)
	})
	return places
}
