package mend

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/near"
)

// touching joins the ends that touch, each pair at a point of its own: LINE soup
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
		c.effort.steps().Step()
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
	grid := near.NewGrid(touchMM, geometry.Point{})
	for _, e := range ends {
		grid.Add(int(e), c.at[e])
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
			c.effort.round(grid, c.at[node[k]], touchMM, func(i int) {
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
