package mend

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// contact is an end of an open line and what it comes near to.
type contact struct {
	end  end
	mate end            // the other open end it is nearest to, −1 where it is nearest to a line
	at   geometry.Point // the nearest point of the other line
	on   piece          // the piece at lies on, at the parameter t
	t    float64
	dist float64
	spur float64 // how far the end lies past a crossing, 0 where it does not
}

// lines holds the pieces of strokes in an index, with how far along its
// stroke each begins.
type lines struct {
	effort  *Effort
	strokes []artwork.Stroke
	pieces  []piece
	owner   []int
	first   []int     // first piece of each stroke, and one past the last
	from    []float64 // length of the stroke before each piece
	length  []float64 // of each stroke
	tree    *near.Tree
}

func newLines(effort *Effort, strokes []artwork.Stroke) *lines {
	b := effort.steps()
	n := Segments(strokes)
	l := &lines{effort: effort, strokes: strokes, pieces: make([]piece, 0, n), owner: make([]int, 0, n), from: make([]float64, 0, n)}
	boxes := make([]geometry.Box, 0, n)
	for i := range strokes {
		l.first = append(l.first, len(l.pieces))
		at := 0.0
		for _, p := range pieces(strokes[i].Path) {
			l.pieces, l.owner, l.from = append(l.pieces, p), append(l.owner, i), append(l.from, at)
			boxes = append(boxes, p.box())
			at += p.seg.LengthIn(b, p.from)
		}
		l.length = append(l.length, at)
	}
	l.first = append(l.first, len(l.pieces))
	l.tree = near.NewTree(b, boxes)
	return l
}

// meets reports whether lines of the two operations can stand for each other's
// boundary: both cut, or both the same.
func meets(a, b artwork.Operation) bool { return a == b || a.Cuts() && b.Cuts() }

// behind returns how far along stroke s the near end of piece j lies from e.
func (l *lines) behind(e end, j int) float64 {
	if e&1 == 0 {
		return l.from[j]
	}
	return l.length[e.stroke()] - l.from[j] - l.pieces[j].length()
}

// contacts looks round each open end up to reach. Ends that touch another line
// already are left out; an end alone comes with an infinite distance.
func (c *chain) contacts(reach float64) []contact {
	open := c.open()
	if len(open) == 0 {
		return nil
	}
	l := newLines(c.effort, c.strokes)
	grid := near.NewGrid(reach, geometry.Point{})
	var found []contact
	for _, e := range open {
		if c.effort.over() {
			return nil
		}
		k := c.nearestLine(l, e, reach)
		if k.dist <= touchMM {
			continue
		}
		if k.spur = l.tail(e, reach); k.spur == 0 {
			grid.Add(int(e), c.at[e])
		}
		found = append(found, k)
	}
	for i := range found {
		if found[i].spur == 0 {
			c.nearestEnd(grid, &found[i], reach)
		}
	}
	return found
}

// nearestLine finds the line nearest to e. Of the stroke's own line only what
// lies well behind the end counts.
func (c *chain) nearestLine(l *lines, e end, reach float64) contact {
	p, s := c.at[e], e.stroke()
	best := contact{end: e, mate: -1, dist: math.Inf(1)}
	c.effort.each(l.tree, geometry.BoxAround(p).Grow(reach), func(j int) bool {
		o := l.owner[j]
		if !meets(c.strokes[o].Operation, c.strokes[s].Operation) {
			return true
		}
		t, d, _ := l.pieces[j].foot(p)
		if d > reach || o == s && l.behind(e, j) < math.Pi*d+touchMM {
			return true
		}
		k := contact{end: e, mate: -1, dist: d, at: l.pieces[j].at(t), on: l.pieces[j], t: t}
		if d < best.dist || d == best.dist && c.before(k, best) {
			best = k
		}
		return true
	})
	return best
}

// before orders contacts of one end with lines that are equally near, as lines
// that meet in a corner are: the one most across the way of the end comes first.
func (c *chain) before(k, other contact) bool {
	way := c.away(k.end)
	across := func(k contact) float64 { return math.Abs(way.Cross(k.on.tangent(k.t))) }
	return cmp.Or(comparePoints(k.at, other.at), cmp.Compare(across(other), across(k)), comparePieces(k.on, other.on)) < 0
}

// nearestEnd turns k into a contact with another open end where one is as near
// as the line, within a touch: an end is where its line is.
func (c *chain) nearestEnd(grid *near.Grid, k *contact, reach float64) {
	p := c.at[k.end]
	best := math.Inf(1)
	c.effort.round(grid, p, reach, func(i int) {
		o := end(i)
		d := c.at[o].Dist(p)
		if o == k.end || d > k.dist+touchMM && d > 2*k.dist || !meets(c.strokes[o.stroke()].Operation, c.strokes[k.end.stroke()].Operation) {
			return
		}
		if o == k.end.other() && c.strokes[o.stroke()].Path.LengthIn(c.effort.steps()) < 4*d {
			return // a short line is not a ring
		}
		if d < best || d == best && c.compareEnds(o, k.mate) < 0 {
			best, k.mate = d, o
		}
	})
	if k.mate >= 0 {
		k.dist, k.at = best, c.at[k.mate]
	}
}

// pairs matches the contacts between ends, the nearest first, each end once,
// and returns the pairs by their first ends; then the contacts of the ends
// that are left with lines.
func (c *chain) pairs(all []contact, reach float64) (ends, lines []contact) {
	var close []contact
	for _, k := range all {
		if k.spur == 0 && k.dist <= reach && k.mate >= 0 {
			close = append(close, k)
		}
	}
	slices.SortFunc(close, func(a, b contact) int {
		c.effort.steps().Step()
		return cmp.Or(cmp.Compare(a.dist, b.dist), c.comparePairs(a.end, a.mate, b.end, b.mate))
	})
	taken := map[end]bool{}
	for _, k := range close {
		if !taken[k.end] && !taken[k.mate] {
			taken[k.end], taken[k.mate] = true, true
			ends = append(ends, k)
		}
	}
	for _, k := range all {
		if k.spur == 0 && k.dist <= reach && k.mate < 0 && !taken[k.end] && c.headsFor(k) {
			lines = append(lines, k)
		}
	}
	return ends, lines
}

// headsFor reports whether the line of k.end goes towards the line it comes
// near to, not beside it or away from it, nor back along itself as a curve does
// that ends in a cusp.
func (c *chain) headsFor(k contact) bool {
	p, ahead := c.at[k.end], c.away(k.end).Mul(-1)
	if ahead.Dot(k.at.Sub(p)) <= 0 || math.Abs(ahead.Cross(k.on.tangent(k.t))) < skew {
		return false
	}
	gap, on := piece{p, geometry.LineTo(k.at)}, c.piece(k.end)
	return len(overlap(nil, &gap, &on, touchMM, touchMM)) == 0
}

// extended returns where the line of k.end hits the line it heads for when it
// goes straight on, at most twice reach ahead, else the nearest point. Going on
// moves nothing that is drawn, so no other end that lies on it loses its place.
func (c *chain) extended(k contact, reach float64) geometry.Point {
	p, ahead := c.at[k.end], c.away(k.end).Mul(-1)
	slope := k.on.tangent(k.t)
	far := k.at.Sub(p).Cross(slope) / ahead.Cross(slope)
	at := p.Add(ahead.Mul(far))
	if _, _, beside := k.on.foot(at); k.on.straight() && beside && far > 0 && far <= 2*reach {
		return at
	}
	return k.at
}

// corner returns where two ends within dist of each other are to meet: where
// their lines do if that is as near, so that neither line turns, else half-way.
func (c *chain) corner(a, b end, dist float64) geometry.Point {
	if c.compareEnds(a, b) > 0 {
		a, b = b, a
	}
	p, q := c.at[a], c.at[b]
	u, v := c.away(a), c.away(b)
	if det := u.Cross(v); math.Abs(det) > 0.1 {
		at := p.Add(u.Mul(q.Sub(p).Cross(v) / det))
		if at.Dist(p) <= dist && at.Dist(q) <= dist {
			return at
		}
	}
	return p.Lerp(q, 0.5)
}
