package mend

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// settled returns a joined path in the direction and with the start that
// follow from its geometry: open ones from the lesser end, closed ones
// anticlockwise from the least vertex. Where that leaves a choice, as for a
// path that goes out and back, the path that compares first is taken.
func settled(b *budget.Budget, p geometry.Path) geometry.Path {
	back := p.Reversed()
	if !p.Closed {
		if cmp.Or(comparePoints(back.Start, p.Start), comparePaths(&back, &p)) < 0 {
			return back
		}
		return p
	}
	ways := []geometry.Path{p, back}
	switch area, length := p.Area(), p.LengthIn(b); {
	case area > 1e-9*length*length:
		ways = ways[:1]
	case area < -1e-9*length*length:
		ways = ways[1:]
	}
	var best turned
	for _, way := range ways {
		for _, i := range leastVertices(way) {
			b.Step()
			if t := (turned{way.Segments, i}); best.segments == nil || t.compare(b, best) < 0 {
				best = t
			}
		}
	}
	return best.path()
}

// turned is a closed path that starts at the end of one of its segments.
type turned struct {
	segments []geometry.Segment
	start    int
}

// compare orders paths of as many segments as comparePaths does, without
// making them: a path may come by its least vertex thousands of times.
func (t turned) compare(b *budget.Budget, u turned) int {
	n := len(t.segments)
	if c := comparePoints(t.segments[t.start].End, u.segments[u.start].End); c != 0 {
		return c
	}
	for k := 1; k <= n; k++ {
		b.Step()
		if c := compareSegments(t.segments[(t.start+k)%n], u.segments[(u.start+k)%n]); c != 0 {
			return c
		}
	}
	return 0
}

func (t turned) path() geometry.Path {
	return geometry.Path{
		Start: t.segments[t.start].End, Closed: true,
		Segments: slices.Concat(t.segments[t.start+1:], t.segments[:t.start+1]),
	}
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
