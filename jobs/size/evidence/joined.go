package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// onLine says on which line an edge lies, and from where to where.
type onLine struct {
	turn     int     // of the line, in steps
	off      float64 // of the line from the origin, to its left
	along    run     // the edge, the way its line goes
	from, to float64 // along the line
	edge     int
}

// joinedEdges returns the sides that are drawn as several lines which go straight on
// from one another or overlap: a program has split them, or a person has gone on from
// an end. The lines by themselves may be sides as well, where what goes on from them is
// something else. Only lines of about one direction and offset are held against each
// other, so that the cost is that of sorting.
func joinedEdges(b *budget.Budget, edges []edge, gap float64) []edge {
	all := make([]onLine, len(edges))
	for i, e := range edges {
		all[i] = lineOf(e.run, edges[0].from)
		all[i].edge = i
	}
	slices.SortStableFunc(all, func(p, q onLine) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.turn, q.turn), cmp.Compare(p.off, q.off))
	})
	var out []edge
	for lo, hi := 0, 0; lo < len(all); lo = hi {
		for hi = lo + 1; hi < len(all) && all[hi].turn == all[lo].turn && all[hi].off-all[hi-1].off <= gap; hi++ {
		}
		if hi-lo > 1 {
			out = append(out, joinAlong(b, edges, all[lo:hi], gap)...)
		}
	}
	return out
}

// lineOf says where a run lies. The lines go from −45° to 135°, so that those along the
// axes, of which most frames are made, are near no end of the range.
func lineOf(r run, origin geometry.Point) onLine {
	const steps = 157 // in half a turn, about 0.02 radians each
	d := r.to.Sub(r.from)
	if d.X+d.Y < 0 || d.X+d.Y == 0 && d.X < 0 {
		r.from, r.to = r.to, r.from
		d = r.to.Sub(r.from)
	}
	u := d.Unit()
	return onLine{
		turn: int(math.Round(math.Atan2(d.Y, d.X) / math.Pi * steps)),
		off:  u.Cross(r.from.Sub(origin)), along: r, from: u.Dot(r.from.Sub(origin)), to: u.Dot(r.to.Sub(origin)),
	}
}

// maxOpen bounds the sides that grow side by side, so that a hatch costs no more than as
// many lines apart. A frame has its copies near it.
const maxOpen = 8

// joinAlong joins lines of about one line where one begins before another has ended. It
// sorts the lines anew.
func joinAlong(b *budget.Budget, edges []edge, lines []onLine, gap float64) []edge {
	slices.SortStableFunc(lines, func(p, q onLine) int {
		b.Step()
		return cmp.Compare(p.from, q.from)
	})
	all := func(joining) bool { return true }
	var open []joining
	var out []edge
	for _, l := range lines {
		b.Spend(len(open))
		ended := func(j joining) bool { return j.to+gap < l.from }
		out = appendJoined(out, edges, open, ended)
		open = slices.DeleteFunc(open, ended)
		took := false
		for i := 0; i < len(open) && !took; i++ {
			took = open[i].take(l)
		}
		if !took {
			if len(open) == maxOpen {
				out = appendJoined(out, edges, open[:1], all)
				open = slices.Delete(open, 0, 1)
			}
			open = append(open, joining{onLine: l, of: []int{l.edge}})
		}
	}
	return appendJoined(out, edges, open, all)
}

// joining is a side that grows.
type joining struct {
	onLine
	of []int // the edges
}

// take makes the side longer by a line that goes on from it, and reports whether the line
// lies on it.
func (j *joining) take(l onLine) bool {
	whole := run{from: j.along.from, to: j.along.to}
	if l.to > j.to {
		whole.to = l.along.to
	}
	slack := straightness * length(whole)
	u := whole.to.Sub(whole.from).Unit()
	for _, p := range [3]geometry.Point{j.along.to, l.along.from, l.along.to} {
		if math.Abs(u.Cross(p.Sub(whole.from))) > slack {
			return false
		}
	}
	if l.to > j.to {
		j.along, j.to, j.of = whole, l.to, append(j.of, l.edge)
	}
	return true
}

// appendJoined appends what was joined of several edges.
func appendJoined(out []edge, edges []edge, open []joining, ended func(joining) bool) []edge {
	for _, j := range open {
		if len(j.of) < 2 || !ended(j) {
			continue
		}
		e := edge{run: run{from: j.along.from, to: j.along.to}, long: length(j.along)}
		for _, i := range j.of {
			e.of = append(e.of, edges[i])
		}
		out = append(out, e)
	}
	return out
}
