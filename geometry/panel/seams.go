package panel

import (
	"math"
	"slices"

	"knifedesk/geometry/budget"
)

// step is how far the places for seams lie apart, in mm.
const step = 1.0

// apart is how far seams of neighbouring bands keep from each other, in mm, so that no
// four corners meet (common practice, no source).
const apart = 30

// clear is how far a seam keeps off the edge of what is kept beside it, in mm, where
// it can: it would cut off a sliver (common practice, no source).
const clear = 3

// profile is what an upright line through work or one band of it crosses, by how far
// it is from the left edge.
type profile struct {
	length float64
	at     []float64 // kept length in mm, each step
	edges  []int     // of what is kept
	spots  []int     // thin parts and counters
}

// profile measures the work between two heights.
func (w Work) profile(b *budget.Budget, y0, y1 float64) profile {
	p := profile{length: w.Bounds.Width()}
	n := int(math.Floor(p.length/step)) + 1
	crossings := make([][]float64, n)
	index := func(x float64) int { return min(max(int(math.Ceil((x-w.Bounds.Min.X)/step)), 0), n) }
	for _, ring := range w.Kept {
		for i, q := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			if a.X > q.X {
				a, q = q, a
			}
			for k := index(a.X); k < index(q.X); k++ { // from a up to, and without, q
				b.Step()
				x := w.Bounds.Min.X + float64(k)*step
				crossings[k] = append(crossings[k], a.Y+(q.Y-a.Y)*(x-a.X)/(q.X-a.X))
			}
		}
	}
	p.at, p.edges, p.spots = make([]float64, n), make([]int, n), make([]int, n)
	for k, ys := range crossings {
		b.Spend(1 + len(ys))
		slices.Sort(ys)
		for _, y := range ys {
			if y > y0 && y < y1 {
				p.edges[k]++
			}
		}
		for i := 1; i < len(ys); i += 2 {
			p.at[k] += math.Max(0, math.Min(ys[i], y1)-math.Max(ys[i-1], y0))
		}
	}
	for _, box := range w.Avoid {
		if box.Max.Y < y0 || box.Min.Y > y1 {
			continue
		}
		for k := index(box.Min.X); k < index(box.Max.X); k++ {
			b.Step()
			p.spots[k]++
		}
	}
	return p
}

// cell returns the step that a place is in.
func (p profile) cell(at float64) int {
	return min(max(int(math.Floor(at/step+0.5)), 0), len(p.at)-1)
}

// kept returns the kept length that a seam crosses: at both of its cuts.
func (p profile) kept(at, overlap float64) float64 {
	if overlap == 0 {
		return p.at[p.cell(at)]
	}
	return p.at[p.cell(at)] + p.at[p.cell(at+overlap)]
}

// beside returns the mean near the cuts of a seam of the kept length, with what edges
// count: a seam that runs along one leaves a sliver.
func (p profile) beside(at, overlap float64) float64 {
	sum := 0.0
	for d := -clear; d <= clear; d++ {
		sum += p.kept(at+float64(d), overlap) + Edge*float64(p.cut(at+float64(d), overlap))
	}
	return sum / (2*clear + 1)
}

// fine returns how many thin parts and counters a seam goes through.
func (p profile) fine(at, overlap float64) int {
	if overlap == 0 {
		return p.spots[p.cell(at)]
	}
	return p.spots[p.cell(at)] + p.spots[p.cell(at+overlap)]
}

// cut returns how many edges of what is kept a seam cuts through.
func (p profile) cut(at, overlap float64) int {
	if overlap == 0 {
		return p.edges[p.cell(at)]
	}
	return p.edges[p.cell(at)] + p.edges[p.cell(at+overlap)]
}

// crossed returns the kept length that seams cross together.
func (p profile) crossed(cuts []float64, overlap float64) float64 {
	sum := 0.0
	for _, at := range cuts {
		sum += p.kept(at, overlap)
	}
	return sum
}

// seams chooses the seams between n panels of a width at most, none near one of the
// band before. It returns false where there is no such choice.
//
// least[k] is the cost of the seams so far where the last of them is at step k; a
// panel that reaches from the seam before to this one has room where they lie no
// farther apart than the width less the overlap. Of places that cost the same the one
// nearest to an equal division is taken, by a thousandth of a mm for each mm.
func (p profile) seams(b *budget.Budget, n int, width, overlap float64, before []float64) ([]float64, bool) {
	if n == 1 {
		return nil, p.length <= width+1e-9
	}
	want := equal(p.length, n, overlap)
	if n*2 > len(p.at) {
		return nil, false
	}
	least := make([]float64, len(p.at)) // before the first seam: from the left edge alone
	for k := range least {
		least[k] = math.Inf(1)
	}
	least[0] = 0
	from := make([][]int, n-1)
	reach := int(math.Floor((width-overlap)/step + 1e-9))
	exact := p.exactly(want, width, overlap)
	for seam := range n - 1 {
		next := make([]float64, len(p.at))
		from[seam] = make([]int, len(p.at))
		window := lowest{of: least}
		for k := range p.at {
			b.Step()
			next[k] = math.Inf(1)
			at := float64(k) * step
			best := window.within(k-reach, k-1)
			if best < 0 || near(at, before) || at+overlap > p.length {
				continue
			}
			from[seam][k] = best
			next[k] = least[best] + p.kept(at, overlap) + p.beside(at, overlap) + Fine*float64(p.fine(at, overlap)) + Edge*float64(p.cut(at, overlap)) + math.Abs(at-want[seam])/1000
		}
		least = next
	}
	last, cost := -1, math.Inf(1)
	for k, c := range least {
		if c < cost && p.length-float64(k)*step <= width+1e-9 {
			last, cost = k, c
		}
	}
	if last < 0 {
		return want, exact && !slices.ContainsFunc(want, func(at float64) bool { return near(at, before) })
	}
	cuts := make([]float64, n-1)
	for seam := n - 2; seam >= 0; seam-- {
		cuts[seam] = float64(last) * step
		last = from[seam][last]
	}
	return cuts, true
}

// exactly reports whether an equal division has room: the steps may miss it where
// panels have to be as wide as they may.
func (p profile) exactly(cuts []float64, width, overlap float64) bool {
	for _, s := range spans(p.length, cuts, overlap) {
		if s[1]-s[0] > width+1e-9 {
			return false
		}
	}
	return true
}

func near(at float64, before []float64) bool {
	return slices.ContainsFunc(before, func(other float64) bool { return math.Abs(at-other) < apart })
}

// lowest finds the least of a window that moves to the right: a queue of places that
// rise in value.
type lowest struct {
	of    []float64
	queue []int
	next  int
}

// within returns the place of the least value from one place to another, −1 where all
// are infinite; neither may go back.
func (l *lowest) within(from, to int) int {
	for ; l.next <= to; l.next++ {
		for len(l.queue) > 0 && l.of[l.queue[len(l.queue)-1]] > l.of[l.next] {
			l.queue = l.queue[:len(l.queue)-1]
		}
		l.queue = append(l.queue, l.next)
	}
	for len(l.queue) > 0 && l.queue[0] < from {
		l.queue = l.queue[1:]
	}
	if len(l.queue) == 0 || math.IsInf(l.of[l.queue[0]], 1) {
		return -1
	}
	return l.queue[0]
}
