package weeding

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// countersFirst is the height of letters, in mm, below which the counters come
// out before the film round them, which then still holds the letters down.
const countersFirst = 10

// peeling is the step that puts the removed regions into order.
type peeling struct {
	weighed
	steps []Step
}

// steps returns the map with the removed regions in the order in which to peel
// them.
func (w weighed) steps() *Map {
	s := peeling{weighed: w}
	s.order()
	return &Map{
		Purpose: s.req.Purpose, Mirrored: s.req.Mirrored, Regions: s.regions, Bounds: s.bounds, Strokes: s.strokes, Bridges: s.bridges,
		Steps: s.steps, Effort: s.work, Risk: s.risk, Findings: s.findings, Questions: s.questions,
	}
}

// order puts the removed regions into the order in which to peel them.
func (s *peeling) order() {
	var peel []int // indices of regions
	for i := range s.regions {
		if !s.regions[i].Kept() {
			peel = append(peel, i)
		}
	}
	start := s.startCorner()
	small := s.work.LeastHeightMM > 0 && s.work.LeastHeightMM < countersFirst
	reaches := s.reaches(peel, start)
	slices.SortStableFunc(peel, func(a, b int) int {
		s.budget.Step()
		p, q := &s.regions[a], &s.regions[b]
		if c := cmp.Compare(rank(p.Class, small), rank(q.Class, small)); c != 0 {
			return c
		}
		switch p.Class {
		case Surround:
			return cmp.Compare(reaches[a], reaches[b])
		case Ground:
			return cmp.Compare(q.AreaMM2, p.AreaMM2)
		}
		return cmp.Compare(s.reading(a), s.reading(b))
	})
	s.likeSizes(peel)
	share := s.shares()
	for k, i := range peel {
		s.steps = append(s.steps, s.step(k+1, i, start, share[i]))
	}
	s.hint(small)
}

// alikeShare is the share of a ground's area from which on another counts as
// large as it is.
const alikeShare = 0.8

// likeSizes puts grounds of like size, which follow each other, in the order
// of their numbers: the eye finds the next one beside the last.
func (s *peeling) likeSizes(peel []int) {
	ground := func(k int) *Region { return &s.regions[peel[k]] }
	for i := 0; i < len(peel); {
		j := i + 1
		for ground(i).Class == Ground && j < len(peel) && ground(j).Class == Ground && ground(j).AreaMM2 >= alikeShare*ground(i).AreaMM2 {
			j++
		}
		slices.SortStableFunc(peel[i:j], func(a, b int) int {
			s.budget.Step()
			return cmp.Compare(s.reading(a), s.reading(b))
		})
		i = j
	}
}

// reading puts regions in the order of their numbers, those that relief lines
// split off next to the one they belong to.
func (s *peeling) reading(region int) int {
	if of := s.parts[region].of; of > 0 {
		return of
	}
	return region + 1
}

// rank is the place of a class in the order of peeling.
func rank(c Class, countersFirst bool) int {
	switch {
	case c == Counter && countersFirst:
		return 0
	case c == Surround:
		return 1
	case c == Ground:
		return 2
	}
	return 3
}

// startCorner returns the corner of the map farthest from fragile parts: from
// fragile pieces and narrow kept film, or the lower left where there is none.
func (s *peeling) startCorner() geometry.Point {
	corners := s.bounds.Corners()
	best, far := corners[0], -1.0
	for _, c := range corners {
		if d := s.toFragile(c); d > far {
			best, far = c, d
		}
	}
	return best
}

// toFragile returns the distance from p to the nearest fragile part, 0 where
// there is none.
func (s *peeling) toFragile(p geometry.Point) float64 {
	d := math.Inf(1)
	for i := range s.parts {
		r := &s.regions[i]
		if !r.Kept() {
			continue
		}
		if r.Fragile {
			d = math.Min(d, p.Dist(r.Pick))
		}
		s.budget.Spend(1 + len(s.parts[i].shape.Necks))
		for _, n := range s.parts[i].shape.Necks {
			d = math.Min(d, p.Dist(n.At))
		}
	}
	if math.IsInf(d, 1) {
		return 0
	}
	return d
}

// reaches returns how near the surrounds among regions come to p, by the index of each.
func (s *peeling) reaches(regions []int, p geometry.Point) map[int]float64 {
	all := map[int]float64{}
	for _, i := range regions {
		if r := &s.regions[i]; r.Class == Surround {
			s.budget.Spend(len(r.Outer.Segments))
			all[i] = reach(r, p)
		}
	}
	return all
}

// reach returns how near the region comes to p.
func reach(r *Region, p geometry.Point) float64 {
	d := r.Outer.Start.Dist(p)
	for _, s := range r.Outer.Segments {
		d = math.Min(d, s.End.Dist(p))
	}
	return d
}

// shares splits the time of one copy over the removed regions, by index: each
// has its own time by class, divided among the parts of a region; kept contour
// counts where it is laid free, by the length of each region's boundary; and
// the care for fragile pieces is spread with the contour.
func (s *peeling) shares() []float64 {
	t, e := s.times(), s.work
	parts := map[*base]float64{}
	contour := 0.0
	for i := range s.parts {
		parts[s.parts[i].base]++
		if !s.regions[i].Kept() {
			contour += s.regions[i].PerimeterMM
		}
	}
	factor := e.Difficulty
	if s.req.Novice {
		factor *= t.Novice
	}
	spread := t.ContourSPM*e.KeptContourM + t.FragileS*float64(e.Fragile)
	share := make([]float64, len(s.parts))
	for i := range s.parts {
		r := &s.regions[i]
		own := t.GroundS
		if r.Class == Counter {
			own = t.CounterS
		}
		if !r.Kept() {
			share[i] = factor * (own/parts[s.parts[i].base] + spread*r.PerimeterMM/contour)
		}
	}
	return share
}

// step returns the step for one removed region. A surround or a ground is
// taken at its corner nearest to the start and pulled towards its far end, a
// counter at its pick point and pulled along its longer side.
func (s *peeling) step(order, region int, start geometry.Point, seconds float64) Step {
	r := &s.regions[region]
	st := Step{Order: order, Region: r.Number, Pick: r.Pick, Seconds: seconds}
	s.budget.Spend(2 * len(r.Outer.Segments)) // here and for the grip
	box := r.Outer.Bounds()
	if r.Class == Counter {
		if box.Height() > box.Width() {
			st.PeelDeg = 90
		}
		return st
	}
	grip := s.grip(region, start)
	towards := box.Centre().Sub(grip)
	st.Pick = grip
	st.PeelDeg = math.Atan2(towards.Y, towards.X) * 180 / math.Pi
	return st
}

// grip returns a point just inside the region near its corner nearest to the
// start, as far from the sides as a finger needs, where there is such room.
func (s *peeling) grip(region int, start geometry.Point) geometry.Point {
	const finger = 2.0
	r := &s.regions[region]
	corner, d := r.Outer.Start, math.Inf(1)
	for _, seg := range r.Outer.Segments {
		if e := seg.End.Dist(start); e < d {
			corner, d = seg.End, e
		}
	}
	box := geometry.BoxAround(corner).Grow(4 * finger)
	room := clearance.NewWindow(s.budget, box, s.parts[region].rings...)
	best, most := r.Pick, 0.0
	for k := 0; k < 24; k++ {
		sin, cos := math.Sincos(float64(k) * math.Pi / 12)
		p := corner.Add(geometry.Pt(cos, sin).Mul(2 * finger))
		if !room.Inside(s.budget, p) {
			continue
		}
		if off, ok := room.Off(s.budget, p, 2*finger); ok && off > most {
			best, most = p, off
		}
	}
	return best
}
