package passes

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

const (
	mostWeighed = 12   // starts of a contour that are weighed once its place in the order stands
	freeTurnMM  = 0.04 // a turn that moves the axis by less is not made (see knife)
)

// beginning is one way to begin a stroke.
type beginning struct {
	entry       int32
	from        int32          // of those of the stroke before; the best
	in, out     geometry.Point // where the tip comes down and leaves, on the load
	first, last geometry.Point // headings there; zero: not known
	least       float64        // seconds until it comes down, at the least
}

// beginner chooses where the contours of a pass begin once their order stands. The order
// minds the ways between strokes alone. But a blade that comes from another stroke first
// has to be turned, which takes as long as some mm of way: a contour that begins the way
// the blade points is begun for nothing.
type beginner struct {
	*step
	b       *budget.Budget
	load    layout.Load
	strokes []artwork.Stroke
	stops   []tour.Stop
	visits  []tour.Visit
	travel  tour.Cost
	accel   float64 // mm/s²
}

// begin changes the entries of the visits to those by which the pass takes least, with the
// shortest way through layers of them.
func (g *beginner) begin(at geometry.Point) {
	if g.rule.OffsetMM <= 0 {
		return
	}
	before, now := []beginning{{out: at}}, []beginning(nil)
	chosen := make([][][2]int32, len(g.visits)) // entry and from, by visit
	for k := range g.visits {
		now = g.beginnings(now[:0], k)
		chosen[k] = make([][2]int32, len(now))
		g.b.Spend(1 + len(now)*len(before)/8)
		for j := range now {
			g.reach(before, &now[j])
			chosen[k][j] = [2]int32{now[j].entry, now[j].from}
		}
		before, now = now, before
	}
	best := 0
	for j := range before {
		if before[j].least < before[best].least {
			best = j
		}
	}
	for k := len(g.visits) - 1; k >= 0; k-- {
		g.visits[k].Entry, best = int(chosen[k][best][0]), int(chosen[k][best][1])
	}
}

// reach finds the quickest way to a beginning.
func (g *beginner) reach(before []beginning, one *beginning) {
	one.least = math.Inf(1)
	for i := range before {
		p := &before[i]
		s := p.least + g.travel(p.out, one.in)
		if s < one.least {
			if s += g.turn(p.last, one.first); s < one.least {
				one.least, one.from = s, int32(i)
			}
		}
	}
}

// turn is the seconds in which the blade turns about its tip.
func (g *beginner) turn(from, to geometry.Point) float64 {
	way := g.rule.OffsetMM * math.Abs(math.Atan2(from.Cross(to), from.Dot(to)))
	if way <= freeTurnMM {
		return 0
	}
	return motion.MoveTime(way, g.set.SpeedMMS, g.accel)
}

// beginnings appends the ways to begin the k-th visit that are weighed.
func (g *beginner) beginnings(to []beginning, k int) []beginning {
	v := g.visits[k]
	s := &g.stops[v.Stop]
	n := len(g.members)
	onto := g.load.Placements[v.Stop/n].Transform
	if !s.Closed {
		first, last := ends(&g.strokes[g.members[v.Stop%n]].Path)
		one := beginning{entry: int32(v.Entry), in: s.Entries[v.Entry], out: s.Entries[1-v.Entry], first: swung(onto, first), last: swung(onto, last)}
		if v.Entry == 1 {
			one.first, one.last = one.last.Mul(-1), one.first.Mul(-1)
		}
		return append(to, one)
	}
	for _, e := range g.weighed(k) {
		from := &g.starts[v.Stop%n][e]
		to = append(to, beginning{entry: e, in: s.Entries[e], out: onto.Apply(from.end), first: swung(onto, from.first), last: swung(onto, from.last)})
	}
	return to
}

// weighed lists the entries of a closed stroke that are nearest to the way from the visit
// before to the next.
func (g *beginner) weighed(k int) []int32 {
	s := &g.stops[g.visits[k].Stop]
	all := make([]int32, len(s.Entries))
	detour := make([]float64, len(all))
	for e, p := range s.Entries {
		all[e] = int32(e)
		if k > 0 {
			detour[e] = g.travel(g.left(k-1), p)
		}
		if k+1 < len(g.visits) {
			detour[e] += g.travel(p, g.stops[g.visits[k+1].Stop].Entries[g.visits[k+1].Entry])
		}
	}
	g.b.Spend(1 + len(all)/4)
	if len(all) <= mostWeighed {
		return all
	}
	slices.SortFunc(all, func(a, b int32) int { return cmp.Or(cmp.Compare(detour[a], detour[b]), cmp.Compare(a, b)) })
	return all[:mostWeighed]
}

// left is where the k-th visit leaves its stroke, as the order has it.
func (g *beginner) left(k int) geometry.Point {
	v := g.visits[k]
	if s := &g.stops[v.Stop]; !s.Closed {
		return s.Entries[1-v.Entry]
	}
	return g.stops[v.Stop].Entries[v.Entry]
}
