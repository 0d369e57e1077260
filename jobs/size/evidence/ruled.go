package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// Bounds of a frame that is ruled, against its longer side.
const (
	maxRuled  = 64   // lines on frame layers: more are no frame and no marks
	ruledSame = 1e-3 // how far lines of one side lie apart
	ruledPast = 0.12 // how far a side runs past its corner or stops short of it
)

// ruledQuad returns the rectangle of which the sides are ruled: all straight lines on
// the frame layers lie along four lines. These may run past the corners or stop short
// of them, or be no more than marks beside the corners.
func ruledQuad(s *Survey) (Quad, bool) {
	var all []edge
	for _, it := range s.Items {
		s.Budget.Step()
		if !it.OnFrame {
			continue
		}
		runs, _ := runsOf(s.Path(it), s.runs)
		if len(runs) != 1 || len(all) == maxRuled {
			return Quad{}, false
		}
		all = append(all, edge{run: runs[0], long: length(runs[0]), shape: it.Shape, path: it.Path})
	}
	sides, ok := ruledSides(all)
	if !ok {
		return Quad{}, false
	}
	q, ok := quadOfSides(sides)
	if !ok {
		return Quad{}, false
	}
	for _, side := range sides {
		from, to := q.nearest(side.from), q.nearest(side.to)
		if past := ruledPast * length(side); from == to || from.Dist(side.from) > past || to.Dist(side.to) > past {
			return Quad{}, false
		}
	}
	q.Loose = true
	for _, e := range all {
		q.Parts = append(q.Parts, e.parts()...)
	}
	q.Parts = mergeParts(q.Parts)
	return q, true
}

// nearest returns the corner that is nearest to p.
func (q *Quad) nearest(p geometry.Point) geometry.Point {
	return slices.MinFunc(q.Corners[:], func(a, b geometry.Point) int { return cmp.Compare(a.Dist(p), b.Dist(p)) })
}

// ruledSides puts lines together that lie along one, each from its first end to its last.
// It reports whether that makes four, two and two at right angles, which it returns in turn.
func ruledSides(all []edge) ([]run, bool) {
	const least = 4
	if len(all) < least {
		return nil, false
	}
	slices.SortStableFunc(all, func(a, b edge) int { return cmp.Compare(b.long, a.long) })
	box := geometry.EmptyBox()
	for _, e := range all {
		box = box.Include(e.from).Include(e.to)
	}
	same := ruledSame * math.Max(box.Width(), box.Height())
	var sides []run
	for _, e := range all {
		took := false
		for i := 0; i < len(sides) && !took; i++ {
			took = sides[i].extend(e.run, same)
		}
		if !took {
			sides = append(sides, e.run)
		}
	}
	if len(sides) != 4 {
		return nil, false
	}
	across := func(a, b run) bool {
		return math.Abs(a.to.Sub(a.from).Unit().Dot(b.to.Sub(b.from).Unit())) <= quadCos
	}
	along := slices.IndexFunc(sides[1:], func(r run) bool { return !across(sides[0], r) }) + 1
	if along == 0 {
		return nil, false
	}
	sides[2], sides[along] = sides[along], sides[2]
	return sides, across(sides[0], sides[1]) && across(sides[0], sides[3]) && across(sides[2], sides[1]) && across(sides[2], sides[3])
}

// extend makes a side longer by a line that lies along it, and reports whether it does.
func (r *run) extend(by run, same float64) bool {
	whole := *r
	for _, p := range [2]geometry.Point{by.from, by.to} {
		switch {
		case p.Dist(whole.to) > length(whole) && p.Dist(whole.to) >= p.Dist(whole.from):
			whole.from = p
		case p.Dist(whole.from) > length(whole):
			whole.to = p
		}
	}
	u := whole.to.Sub(whole.from).Unit()
	for _, p := range [4]geometry.Point{r.from, r.to, by.from, by.to} {
		if math.Abs(u.Cross(p.Sub(whole.from))) > same {
			return false
		}
	}
	*r = whole
	return true
}
