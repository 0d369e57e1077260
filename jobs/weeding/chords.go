package weeding

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// scan are even lines along one axis across a loop, at steps of an eighth of a hand
// or a sixteenth of the box.
type scan struct {
	upright  bool
	lo, step float64
	lines    int
}

func (h *hand) scan(box geometry.Box, upright bool) scan {
	lo, hi := box.Min.X, box.Max.X
	if !upright {
		lo, hi = box.Min.Y, box.Max.Y
	}
	n := math.Max(16, math.Min(256, math.Ceil((hi-lo)/(h.longest/8))))
	return scan{upright, lo, (hi - lo) / n, int(n) - 1}
}

// line returns where line k lies.
func (s *scan) line(k int) float64 { return s.lo + s.step*float64(k+1) }

// across returns the coordinate of a point that the lines go by.
func (s *scan) across(p geometry.Point) float64 {
	if s.upright {
		return p.X
	}
	return p.Y
}

// met returns the first line that an edge between two coordinates meets, and the
// one after the last.
func (s *scan) met(a, b float64) (from, to int) {
	lo, hi := min(a, b), max(a, b)
	from = max(0, int((lo-s.lo)/s.step)-1)
	for from < s.lines && s.line(from) < lo {
		from++
	}
	for to = from; to < s.lines && s.line(to) < hi; {
		to++
	}
	return from, to
}

// meets reports whether a line meets an edge in a box.
func (s *scan) meets(box geometry.Box) bool {
	from, to := s.met(s.across(box.Min), s.across(box.Max))
	return from < to
}

// crossed is an edge of a loop and the lines of a scan that it meets.
type crossed struct{ edge, from, to int32 }

// chords returns the straight lines of a scan through the inside of the loop, of which
// the index is there, in room that is used again.
func (h *hand) chords(loop []geometry.Point, box geometry.Box, upright bool) []chord {
	s := h.scan(box, upright)
	ends := make([]int, s.lines+1) // of each line among all, once they are there
	edges := h.crossed[:0]         // most cross no line
	for first := 0; first < len(loop); first += inBlock {
		last := min(first+inBlock, len(loop))
		if block := h.index.block(first); !s.meets(block.Include(loop[last%len(loop)])) {
			h.budget.Spend(2 * (last - first))
			continue
		}
		for i := first; i < last; i++ {
			from, to := s.met(s.across(loop[i]), s.across(loop[(i+1)%len(loop)]))
			h.budget.Spend(2 + to - from)
			if from < to {
				edges = append(edges, crossed{int32(i), int32(from), int32(to)})
			}
			for k := from; k < to; k++ {
				ends[k+1]++
			}
		}
	}
	for k := range s.lines {
		ends[k+1] += ends[k]
	}
	h.crossed = edges
	h.meetings = slices.Grow(h.meetings[:0], ends[s.lines])
	all := h.meetings[:ends[s.lines]]
	for _, e := range edges {
		i := int(e.edge)
		for k := int(e.from); k < int(e.to); k++ {
			all[ends[k]] = s.meeting(loop[i], loop[(i+1)%len(loop)], i, k)
			ends[k]++
		}
	}
	chords := h.chordsOf[:0]
	first := 0
	for k, end := range ends[:s.lines] {
		chords = h.appendChords(chords, all[first:end], s.line(k), upright)
		first = end
	}
	h.chordsOf = chords
	return chords
}

// meeting returns where line k meets edge i, from a to b.
func (s *scan) meeting(a, b geometry.Point, i, k int) meeting {
	p, q := a, b
	if !s.upright { // swap the axes; this mirrors, so the sense turns over
		p, q = geometry.Pt(a.Y, a.X), geometry.Pt(b.Y, b.X)
	}
	x := s.line(k)
	return meeting{
		y: p.Y + (x-p.X)/(q.X-p.X)*(q.Y-p.Y), edge: int32(i),
		opens:  (q.X > p.X) == s.upright,
		square: math.Abs(q.X-p.X) >= math.Cos(math.Pi/6)*p.Dist(q),
	}
}

// meeting is where a scanning line meets an edge of the loop. There are many of them to
// be sorted, so that it is small.
type meeting struct {
	y      float64 // along the line
	edge   int32
	opens  bool // the inside lies beyond it
	square bool // within 30° of the edge's normal
}

// appendChords pairs the meetings of the line at one coordinate. Where a slit is met twice at
// one place, the side that closes comes first.
func (h *hand) appendChords(chords []chord, line []meeting, at float64, upright bool) []chord {
	if !slices.ContainsFunc(line, func(m meeting) bool { return m.square }) {
		return chords // along a side of a comb, say
	}
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
		return int(a.edge - b.edge)
	})
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		if !a.opens || b.opens || !a.square || !b.square || b.y-a.y <= 2*h.clear {
			continue // what is no longer than its clearance at both ends cannot be laid
		}
		c := chord{from: geometry.Pt(at, a.y), to: geometry.Pt(at, b.y), i: int(a.edge), j: int(b.edge)}
		if !upright {
			c.from, c.to = geometry.Pt(a.y, at), geometry.Pt(b.y, at)
		}
		chords = append(chords, c)
	}
	return chords
}
