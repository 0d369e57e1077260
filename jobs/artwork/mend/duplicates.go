package mend

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// removal is what duplicates took out.
type removal struct {
	count  int // lines that were removed or shortened
	saved  total
	taken  total // what took over, counted as often as it is drawn
	places []finding.Place
}

// sweep is the state of taking out duplicates: all pieces of all strokes, and
// what is left of those that were looked at.
type sweep struct {
	strokes []artwork.Stroke
	lim     Limits
	effort  *Effort
	unite   bool
	yields  func(s, o artwork.Operation) bool // whether lines of s give way to lines of o
	pieces  []piece
	owner   []int32             // stroke of each piece
	along   []geometry.Point    // the way each straight piece goes, 0 of curves
	does    []artwork.Operation // of each stroke
	first   []int               // first piece of each stroke, and one past the last
	lying   *near.Part          // pieces of strokes that were looked at, of which something is left
	left    [][]span            // of each piece of those
	whole   []span              // of a piece that loses nothing
}

// duplicates takes out of each stroke what an earlier one already cuts. A
// closed contour comes before an open line and a long one before a short one,
// so that contours stay whole where they can. With o.Unite, closed contours that
// run over each other stay whole where they share a part of their outlines:
// they can only be united as they are.
//
// It costs O(n log n) for n segments of which few lie near each other.
func duplicates(e *Effort, strokes []artwork.Stroke, o Options) ([]artwork.Stroke, removal) {
	strokes, order, copies := withoutCopies(e, strokes, o.Limits)
	w := newSweep(e, strokes, o.Limits)
	w.unite = o.Unite
	w.yields = func(s, o artwork.Operation) bool { return s == o }
	less, gone := w.run(order)
	gone.count += copies.count
	gone.saved += copies.saved
	gone.taken += copies.taken
	gone.places = sortedPlaces(e.steps(), append(gone.places, copies.places...))
	return less, gone
}

// run takes the strokes in order and returns what is left of them.
func (w *sweep) run(order []int) ([]artwork.Stroke, removal) {
	parts := make([][]geometry.Path, len(w.strokes))
	var out removal
	shared := map[int]bool{} // filled shapes that lose or lend a part of their outline
	for _, s := range order {
		gone := w.reduce(s, shared)
		if w.effort.over() {
			return w.strokes, removal{}
		}
		parts[s] = w.rest(s, gone)
		out.note(w.effort.steps(), &w.strokes[s], gone)
	}
	return rebuilt(w.strokes, parts, shared), out
}

func newSweep(e *Effort, strokes []artwork.Stroke, lim Limits) *sweep {
	w := &sweep{strokes: strokes, lim: lim, effort: e, whole: []span{{0, 1}}}
	n := Segments(strokes)
	w.pieces, w.owner, w.along = make([]piece, 0, n), make([]int32, 0, n), make([]geometry.Point, n)
	for i := range strokes {
		w.first, w.does = append(w.first, len(w.pieces)), append(w.does, strokes[i].Operation)
		w.pieces = appendPieces(w.pieces, strokes[i].Path)
		for len(w.owner) < len(w.pieces) {
			w.owner = append(w.owner, int32(i))
		}
	}
	w.first = append(w.first, len(w.pieces))
	boxes := make([]geometry.Box, len(w.pieces))
	for i, p := range w.pieces {
		boxes[i] = p.box().Grow(lim.OverlapMM)
		if p.straight() {
			w.along[i] = p.tangent(0)
		}
	}
	w.lying = near.NewPart(e.steps(), near.NewTree(e.steps(), boxes))
	w.left = make([][]span, len(w.pieces))
	return w
}

// reduce finds what earlier strokes leave of stroke s, piece by piece, and
// returns the covers of each of its pieces, nil where s stays whole.
func (w *sweep) reduce(s int, shared map[int]bool) [][]cover {
	lo, hi := w.first[s], w.first[s+1]
	gone := make([][]cover, hi-lo)
	rest, touched, lenders := 0.0, false, map[int]bool{}
	for i := lo; i < hi; i++ {
		gone[i-lo] = w.covers(s, i, lenders)
		long := w.pieces[i].seg.LengthIn(w.effort.steps(), w.pieces[i].from)
		if len(gone[i-lo]) == 0 {
			w.leave(i, w.whole) // short pieces are not scraps by themselves
		} else {
			w.leave(i, left(w.effort.steps(), gone[i-lo], long, w.lim.TinyMM))
		}
		touched = touched || len(gone[i-lo]) > 0
		for _, sp := range w.left[i] {
			rest += (sp.hi - sp.lo) * long
		}
	}
	partly := touched && rest > 0
	if !touched || partly && w.unite && w.crossesAny(s, lenders) {
		for i := lo; i < hi; i++ {
			w.leave(i, w.whole)
		}
		return nil
	}
	if partly {
		w.share(s, lenders, shared)
	}
	return gone
}

// leave notes what is left of piece i.
func (w *sweep) leave(i int, spans []span) {
	w.left[i] = spans
	w.lying.Set(i, len(spans) > 0)
}

func (w *sweep) filled(s int) bool { return w.strokes[s].Fill != "" && w.strokes[s].Path.Closed }

// share marks the shapes on both sides of a shared line: once the line is
// drawn for one of them only, no outline of them is a fill by itself.
func (w *sweep) share(s int, lenders, shared map[int]bool) {
	if !w.filled(s) {
		return
	}
	shared[w.strokes[s].Shape] = true
	for l := range lenders {
		if w.filled(l) {
			shared[w.strokes[l].Shape] = true
		}
	}
}

// covers returns what of piece i of stroke s is cut already, and by whom.
func (w *sweep) covers(s, i int, lenders map[int]bool) []cover {
	var all []cover
	p := &w.pieces[i]
	w.effort.each(w.lying, p.box(), func(j int) bool {
		o := int(w.owner[j])
		w.effort.spend(1)
		if w.apart(i, j) || !w.yields(w.does[s], w.does[o]) {
			return true
		}
		tol := w.lim.OverlapMM
		if o == s {
			tol = touchMM // a thin tip of one contour is no duplicate
		}
		w.effort.spend(looksToCompare(p, &w.pieces[j]))
		for _, sp := range w.left[j] {
			before, part := len(all), w.pieces[j].part(sp.lo, sp.hi)
			if all = overlap(all, p, &part, tol, w.lim.TinyMM); len(all) > before {
				lenders[o] = true
			}
		}
		return true
	})
	slices.SortFunc(all, func(a, b cover) int {
		w.effort.steps().Step()
		return compareSpans(a, b)
	})
	return all
}

// apart reports whether nothing of the straight pieces i and j can run
// together: they stand across each other, or j lies on one side of i.
func (w *sweep) apart(i, j int) bool {
	d, p, q := w.along[i], &w.pieces[i], &w.pieces[j]
	if w.along[j] == (geometry.Point{}) {
		return false // a curve
	}
	if math.Abs(d.Cross(w.along[j])) > skew {
		return true
	}
	const rounding = 1e-6
	u, v := d.Cross(q.from.Sub(p.from)), d.Cross(q.seg.End.Sub(p.from))
	return min(u, v) > w.lim.OverlapMM+rounding || max(u, v) < -w.lim.OverlapMM-rounding
}

func (r *removal) note(b *budget.Budget, s *artwork.Stroke, gone [][]cover) {
	if gone == nil {
		return
	}
	r.count++
	box := geometry.EmptyBox()
	for i, p := range pieces(s.Path) {
		at, long := 0.0, p.seg.LengthIn(b, p.from)
		b.Spend(8 * len(gone[i]))
		for _, c := range gone[i] {
			r.taken.add((c.hi - c.lo) * long)
			if c.hi <= at {
				continue
			}
			cut := p.part(max(at, c.lo), c.hi)
			r.saved.add(cut.length())
			box = box.Union(geometry.Path{Start: cut.from, Segments: []geometry.Segment{cut.seg}}.Bounds())
			at = c.hi
		}
	}
	r.places = append(r.places, placeOf(s, box))
}
