package weeding

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// chords returns the straight lines along one axis through the inside of the
// loop, at even steps of an eighth of a hand or a sixteenth of the box.
func (h *hand) chords(loop []geometry.Point, box geometry.Box, upright bool) []chord {
	lo, hi := box.Min.X, box.Max.X
	if !upright {
		lo, hi = box.Min.Y, box.Max.Y
	}
	n := int(math.Max(16, math.Min(256, math.Ceil((hi-lo)/(h.longest/8)))))
	lines := make([][]meeting, n-1)
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		p, q := a, b
		if !upright { // swap the axes; this mirrors, so the sense turns over
			p, q = geometry.Pt(a.Y, a.X), geometry.Pt(b.Y, b.X)
		}
		step := (hi - lo) / float64(n)
		from := int(math.Max(0, math.Floor((math.Min(p.X, q.X)-lo)/step)-1))
		to := int(math.Min(float64(n-2), math.Ceil((math.Max(p.X, q.X)-lo)/step)))
		h.budget.Spend(2 + to - from)
		for k := from; k <= to; k++ {
			x := lo + step*float64(k+1)
			if (p.X > x) == (q.X > x) {
				continue
			}
			y := p.Y + (x-p.X)/(q.X-p.X)*(q.Y-p.Y)
			lines[k] = append(lines[k], meeting{
				at: x, y: y, edge: i,
				opens:  (q.X > p.X) == upright,
				square: math.Abs(q.X-p.X) >= math.Cos(math.Pi/6)*p.Dist(q),
			})
		}
	}
	var chords []chord
	for _, line := range lines {
		chords = h.appendChords(chords, line, upright)
	}
	return chords
}

// meeting is where a scanning line meets an edge of the loop.
type meeting struct {
	at, y  float64
	edge   int
	opens  bool // the inside lies beyond it
	square bool // within 30° of the edge's normal
}

// appendChords pairs the meetings of one line. Where a slit is met twice at
// one place, the side that closes comes first.
func (h *hand) appendChords(chords []chord, line []meeting, upright bool) []chord {
	slices.SortFunc(line, func(a, b meeting) int {
		h.budget.Step()
		switch {
		case a.y != b.y:
			if a.y < b.y {
				return -1
			}
			return 1
		case a.opens != b.opens:
			if b.opens {
				return -1
			}
			return 1
		}
		return a.edge - b.edge
	})
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		if !a.opens || b.opens || !a.square || !b.square || b.y-a.y <= 2*h.clear {
			continue // what is no longer than its clearance at both ends cannot be laid
		}
		c := chord{from: geometry.Pt(a.at, a.y), to: geometry.Pt(b.at, b.y), i: a.edge, j: b.edge}
		if !upright {
			c.from, c.to = geometry.Pt(a.y, a.at), geometry.Pt(b.y, b.at)
		}
		chords = append(chords, c)
	}
	return chords
}
