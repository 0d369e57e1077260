package mend

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// An end is one of the two ends of a stroke: 2·stroke for its start and
// 2·stroke+1 for its end.
type end int

func (e end) stroke() int { return int(e) / 2 }
func (e end) other() end  { return e ^ 1 }

// chain is a set of strokes with the ends that are to be joined.
type chain struct {
	strokes []artwork.Stroke
	mate    []end            // the end joined to each end, −1 for none
	at      []geometry.Point // where each end is to lie
	bridge  map[end]bool     // ends joined to their mate by a straight line
	effort  *Effort
}

func newChain(e *Effort, strokes []artwork.Stroke) *chain {
	c := &chain{strokes: slices.Clone(strokes), mate: make([]end, 2*len(strokes)), at: make([]geometry.Point, 2*len(strokes)), bridge: map[end]bool{}, effort: e}
	for i := range strokes {
		c.mate[2*i], c.mate[2*i+1] = -1, -1
		c.at[2*i], c.at[2*i+1] = strokes[i].Path.Start, strokes[i].Path.End()
	}
	return c
}

// open lists the ends of open strokes. Those of slits are no ends of a line.
func (c *chain) open() []end {
	var ends []end
	for i := range c.strokes {
		if s := &c.strokes[i]; !s.Path.Closed && !s.Path.Empty() && !s.Slit {
			ends = append(ends, end(2*i), end(2*i+1))
		}
	}
	return ends
}

func (c *chain) join(a, b end, p geometry.Point) {
	c.mate[a], c.mate[b] = b, a
	c.at[a], c.at[b] = p, p
}

// piece returns the segment of its stroke that e is an end of, run as drawn.
func (c *chain) piece(e end) piece {
	p := &c.strokes[e.stroke()].Path
	n := len(p.Segments) - 1
	if e&1 == 0 || n == 0 {
		return piece{p.Start, p.Segments[0]}
	}
	return piece{p.Segments[n-1].End, p.Segments[n]}
}

// away returns the direction in which the stroke leaves the end e.
func (c *chain) away(e end) geometry.Point {
	p := c.piece(e)
	if e&1 == 0 {
		return p.tangent(0)
	}
	return p.tangent(1).Mul(-1)
}

// walk follows the joins and returns the strokes they make, those that were
// not joined unchanged.
func (c *chain) walk() []artwork.Stroke {
	used := make([]bool, len(c.strokes))
	var out []artwork.Stroke
	for i := range c.strokes {
		if used[i] {
			continue
		}
		if c.mate[2*i] < 0 && c.mate[2*i+1] < 0 {
			used[i] = true
			s := c.strokes[i]
			s.Path = c.moved(end(2 * i))
			out = append(out, s)
			continue
		}
		first := c.firstEnd(end(2 * i))
		out = append(out, c.follow(first, used))
	}
	return out
}

// firstEnd goes back from e to the end where its chain begins; in a ring it
// comes back to e.
func (c *chain) firstEnd(e end) end {
	at := e
	for c.mate[at] >= 0 {
		if at = c.mate[at].other(); at == e {
			break
		}
	}
	return at
}

// follow joins the strokes from the end e on, where the chain begins.
func (c *chain) follow(e end, used []bool) artwork.Stroke {
	var members []int
	path := geometry.Path{Start: c.at[e]}
	for at := e; ; {
		members = append(members, at.stroke())
		used[at.stroke()] = true
		path.Segments = append(path.Segments, c.moved(at).Segments...)
		next := c.mate[at.other()]
		if next >= 0 && c.bridge[next] {
			path.Segments = append(path.Segments, geometry.LineTo(c.at[next]))
		}
		if next == e {
			path.Closed = true
			path.Segments[len(path.Segments)-1].End = path.Start
		}
		if next < 0 || next == e {
			break
		}
		at = next
	}
	s := c.merged(members)
	s.Path = settled(c.effort.steps(), path)
	return s
}

// moved returns the path of the stroke of e, run from e on, with its ends
// where they are to lie.
func (c *chain) moved(e end) geometry.Path {
	p := c.strokes[e.stroke()].Path
	if p.Empty() || p.Closed {
		return p
	}
	if e&1 == 1 {
		p = p.Reversed()
	}
	a, b := c.at[e], c.at[e.other()]
	if p.Start == a && p.End() == b {
		return p
	}
	p.Segments = slices.Clone(p.Segments)
	first := piece{p.Start, p.Segments[0]}.startingAt(a)
	p.Start, p.Segments[0] = a, first.seg
	n := len(p.Segments) - 1
	last := piece{p.Start, p.Segments[n]}
	if n > 0 {
		last.from = p.Segments[n-1].End
	}
	p.Segments[n] = last.endingAt(b).seg
	return p
}

// merged returns what the joined stroke has besides its path: the paint of the
// member that compares first, the lowest shape, the sources of all.
func (c *chain) merged(members []int) artwork.Stroke {
	best := members[0]
	shape := c.strokes[best].Shape
	var sources []drawing.Source
	for _, m := range members {
		if compare(&c.strokes[m], &c.strokes[best]) < 0 {
			best = m
		}
		shape = min(shape, c.strokes[m].Shape)
		if room := finding.MaxPlaces - len(sources); room > 0 {
			sources = append(sources, c.strokes[m].Sources[:min(room, len(c.strokes[m].Sources))]...)
		}
	}
	s := c.strokes[best]
	s.Shape, s.Sources = shape, sources
	return s
}
