package mend

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
)

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
