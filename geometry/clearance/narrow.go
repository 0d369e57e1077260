package clearance

import (
	"slices"

	"knifedesk/geometry"
)

// candidates keeps the smallest balls seen at places apart from each other;
// only these are worth refining.
type candidates struct{ kept []candidate }

type candidate struct {
	site site
	ball ball
}

// maxCandidates bounds the refined places of a region. The least width is the
// refined one of a site whose own width is among the smallest, so a few do.
const maxCandidates = 3

func (c *candidates) offer(s site, b ball) {
	for i := range c.kept {
		k := &c.kept[i]
		if squared(k.ball.centre.X-b.centre.X, k.ball.centre.Y-b.centre.Y) < k.ball.radius*k.ball.radius {
			if b.radius < k.ball.radius {
				*k = candidate{s, b}
			}
			return
		}
	}
	at := len(c.kept)
	for at > 0 && b.radius < c.kept[at-1].ball.radius {
		at--
	}
	if at < maxCandidates {
		c.kept = slices.Insert(c.kept, at, candidate{s, b})
		c.kept = c.kept[:min(len(c.kept), maxCandidates)]
	}
}

// worst returns the largest radius kept and whether the list is full.
func (c *candidates) worst() (float64, bool) {
	if len(c.kept) < maxCandidates {
		return 0, false
	}
	worst := 0.0
	for _, k := range c.kept {
		worst = max(worst, k.ball.radius)
	}
	return worst, true
}

// narrow is circles between two straight sides, whose widths change evenly from
// the first to the last; or one circle.
type narrow struct {
	from, to    geometry.Point // the middles of the first and the last
	first, last float64        // their widths
	share       float64        // of the boundary's length, that the circles stand for
}

// part returns the circles of one part of the way from the first to the last, with
// the whole share.
func (n narrow) part(lo, hi float64) narrow {
	by := n.last - n.first
	return narrow{n.from.Lerp(n.to, lo), n.from.Lerp(n.to, hi), n.first + lo*by, n.first + hi*by, n.share}
}

// below returns those of the circles that are narrower than limit, and whether there
// are any.
func (n narrow) below(limit float64) (narrow, bool) {
	switch {
	case n.first >= limit && n.last >= limit:
		return narrow{}, false
	case n.first < limit && n.last < limit:
		return n, true
	}
	lo, hi := 0.0, (limit-n.first)/(n.last-n.first)
	if n.last < limit {
		lo, hi = hi, 1
	}
	p := n.part(lo, hi)
	p.share *= hi - lo
	return p, true
}
