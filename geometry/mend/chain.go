package mend

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/finding"
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
}

func newChain(strokes []artwork.Stroke) *chain {
	c := &chain{strokes: slices.Clone(strokes), mate: make([]end, 2*len(strokes)), at: make([]geometry.Point, 2*len(strokes)), bridge: map[end]bool{}}
	for i := range strokes {
		c.mate[2*i], c.mate[2*i+1] = -1, -1
		c.at[2*i], c.at[2*i+1] = strokes[i].Path.Start, strokes[i].Path.End()
	}
	return c
}

// open lists the ends of open strokes.
func (c *chain) open() []end {
	var ends []end
	for i := range c.strokes {
		if !c.strokes[i].Path.Closed && !c.strokes[i].Path.Empty() {
			ends = append(ends, end(2*i), end(2*i+1))
		}
	}
	return ends
}

func (c *chain) join(a, b end, p geometry.Point) {
	c.mate[a], c.mate[b] = b, a
	c.at[a], c.at[b] = p, p
}

// away returns the direction in which the stroke leaves the end e.
func (c *chain) away(e end) geometry.Point {
	p := &c.strokes[e.stroke()].Path
	if e&1 == 0 {
		return piece{p.Start, p.Segments[0]}.tangent(0)
	}
	all := pieces(geometry.Path{Start: p.Start, Segments: p.Segments})
	return all[len(all)-1].tangent(1).Mul(-1)
}

// loose joins the ends that touch, each pair at a point of its own: LINE soup
// becomes contours. Where more than two ends meet, the straightest go on.
func (c *chain) touching() (joined int) {
	for _, node := range c.nodes() {
		if len(node) < 2 || len(node) > maxStar {
			continue
		}
		at := c.at[node[0]]
		for _, e := range node {
			if comparePoints(c.at[e], at) < 0 {
				at = c.at[e]
			}
		}
		joined += c.straightest(node, at)
	}
	return joined
}

// maxStar bounds the ends at one point that are paired; the strokes of a
// larger star stay as they are, which costs lifts of the knife and no cut.
const maxStar = 64

// straightest pairs the ends of a node, the flattest turn first.
func (c *chain) straightest(node []end, at geometry.Point) (joined int) {
	type turn struct {
		a, b end
		cos  float64
	}
	dirs := make([]geometry.Point, len(node))
	for i, e := range node {
		dirs[i] = c.away(e)
	}
	var turns []turn
	for i, a := range node {
		for j := i + 1; j < len(node); j++ {
			if c.strokes[a.stroke()].Operation == c.strokes[node[j].stroke()].Operation {
				turns = append(turns, turn{a, node[j], dirs[i].Dot(dirs[j])})
			}
		}
	}
	slices.SortFunc(turns, func(s, t turn) int {
		return cmp.Or(cmp.Compare(s.cos, t.cos), c.comparePairs(s.a, s.b, t.a, t.b))
	})
	for _, t := range turns {
		if c.mate[t.a] < 0 && c.mate[t.b] < 0 {
			c.join(t.a, t.b, at)
			joined++
		}
	}
	return joined
}

// comparePairs orders two pairs of ends by the strokes they belong to, not by
// their numbers, as far as these differ.
func (c *chain) comparePairs(a, b, d, e end) int {
	if c.compareEnds(a, b) > 0 {
		a, b = b, a
	}
	if c.compareEnds(d, e) > 0 {
		d, e = e, d
	}
	return cmp.Or(c.compareEnds(a, d), c.compareEnds(b, e))
}

func (c *chain) compareEnds(a, b end) int {
	return cmp.Or(comparePoints(c.at[a], c.at[b]), compare(&c.strokes[a.stroke()], &c.strokes[b.stroke()]), cmp.Compare(a&1, b&1))
}

// nodes groups the open ends that touch. Ends within touchMM of each other
// share a node; the nodes come in the order of their first ends.
func (c *chain) nodes() [][]end {
	ends := c.open()
	grid := newPointGrid(touchMM)
	for _, e := range ends {
		grid.add(c.at[e], int(e))
	}
	seen := make([]bool, len(c.at))
	var nodes [][]end
	for _, e := range ends {
		if seen[e] {
			continue
		}
		seen[e] = true
		node := []end{e}
		for k := 0; k < len(node); k++ {
			grid.near(c.at[node[k]], touchMM, func(i int) {
				if !seen[i] {
					seen[i] = true
					node = append(node, end(i))
				}
			})
		}
		nodes = append(nodes, node)
	}
	return nodes
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
	s.Path = settled(path)
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

// settled returns a joined path in the direction and with the start that
// follow from its geometry: open ones from the lesser end, closed ones
// anticlockwise from the least vertex. Where that leaves a choice, as for a
// path that goes out and back, the path that compares first is taken.
func settled(p geometry.Path) geometry.Path {
	back := p.Reversed()
	if !p.Closed {
		if cmp.Or(comparePoints(back.Start, p.Start), comparePaths(&back, &p)) < 0 {
			return back
		}
		return p
	}
	ways := []geometry.Path{p, back}
	switch area, length := p.Area(), p.Length(); {
	case area > 1e-9*length*length:
		ways = ways[:1]
	case area < -1e-9*length*length:
		ways = ways[1:]
	}
	var best *geometry.Path
	for _, way := range ways {
		for _, i := range leastVertices(way) {
			turned := geometry.Path{Start: way.Segments[i].End, Closed: true, Segments: slices.Concat(way.Segments[i+1:], way.Segments[:i+1])}
			if best == nil || comparePaths(&turned, best) < 0 {
				best = &turned
			}
		}
	}
	return *best
}

// leastVertices returns the segments that end at the least vertex of p: one,
// unless p comes by there more than once.
func leastVertices(p geometry.Path) []int {
	var least []int
	for i, s := range p.Segments {
		c := -1
		if len(least) > 0 {
			c = comparePoints(s.End, p.Segments[least[0]].End)
		}
		if c < 0 {
			least = least[:0]
		}
		if c <= 0 {
			least = append(least, i)
		}
	}
	return least
}

// pointGrid finds points near a place by hashing them to square cells.
type pointGrid struct {
	cell  float64
	cells map[[2]int64][]gridPoint
}

type gridPoint struct {
	at geometry.Point
	id int
}

func newPointGrid(cell float64) *pointGrid {
	return &pointGrid{cell, map[[2]int64][]gridPoint{}}
}

func (g *pointGrid) key(p geometry.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / g.cell)), int64(math.Floor(p.Y / g.cell))}
}

func (g *pointGrid) add(p geometry.Point, id int) {
	k := g.key(p)
	g.cells[k] = append(g.cells[k], gridPoint{p, id})
}

// near calls visit for every point within dist of p; dist is at most a cell.
func (g *pointGrid) near(p geometry.Point, dist float64, visit func(id int)) {
	k := g.key(p)
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, q := range g.cells[[2]int64{k[0] + dx, k[1] + dy}] {
				if q.at.Dist(p) <= dist {
					visit(q.id)
				}
			}
		}
	}
}
