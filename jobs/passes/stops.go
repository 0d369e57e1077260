package passes

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// feedBand is the length of a roll, in mm, that is finished before the next:
// the film is fed to and fro as little as may be, since it drifts.
const feedBand = 300

// stops returns the strokes of the step on all copies of a load, copy by copy.
func (st *step) stops(b *budget.Budget, load layout.Load, strokes []artwork.Stroke, roll bool) []tour.Stop {
	n := len(st.members)
	stops := make([]tour.Stop, 0, n*len(load.Placements))
	var paths []geometry.Path // where copies may lie within each other
	nested := st.set.Operation.Cuts() && overlap(b, load.Placements)
	for c, placed := range load.Placements {
		for i, number := range st.members {
			path := strokes[number].Path.Transform(placed.Transform)
			b.Spend(len(path.Segments))
			s := tour.Stop{Closed: path.Closed, Entries: st.entries(i, path, placed.Transform)}
			if past := st.past[i]; past != [2]float64{} {
				longer := knife.Past(path, past[0], past[1])
				s.Entries = []geometry.Point{longer.Start, longer.End()}
			}
			if st.set.Operation == artwork.ThroughCut {
				s.Phase = st.rules.tier[i]
			}
			if roll {
				s.Phase = int(math.Max(0, math.Floor(path.Bounds().Max.Y/feedBand)))
			}
			for _, later := range st.rules.after[i] {
				s.After = append(s.After, c*n+later)
			}
			stops = append(stops, s)
			if nested {
				paths = append(paths, path)
			}
		}
	}
	innerFirst(b, stops, paths, n)
	return stops
}

// innerFirst puts strokes that lie within a contour of another copy before it. Within
// a copy of n strokes that is seen to; where there are no paths no copy lies within
// another.
func innerFirst(b *budget.Budget, stops []tour.Stop, paths []geometry.Path, n int) {
	cs := make([]tour.Contour, len(paths))
	for i := range paths {
		cs[i] = tour.NewContour(b, paths[i])
	}
	for i, holder := range tour.Holders(b, cs) {
		if holder >= 0 && holder/n != i/n {
			stops[i].After = append(stops[i].After, holder)
		}
	}
}

// overlap reports whether the boxes of two copies overlap.
func overlap(b *budget.Budget, all []layout.Placement) bool {
	byY := slices.Clone(all)
	slices.SortFunc(byY, func(p, q layout.Placement) int {
		b.Step()
		return cmp.Compare(p.Bounds.Min.Y, q.Bounds.Min.Y)
	})
	for i, p := range byY {
		for _, q := range byY[i+1:] {
			b.Step()
			if q.Bounds.Min.Y >= p.Bounds.Max.Y {
				break
			}
			if q.Bounds.Min.X < p.Bounds.Max.X && p.Bounds.Min.X < q.Bounds.Max.X {
				return true
			}
		}
	}
	return false
}

// entries returns where the i-th stroke can be entered that runs along a path on its
// load: the starts of a closed one, both ends of an open one.
func (st *step) entries(i int, path geometry.Path, onto geometry.Affine) []geometry.Point {
	if !path.Closed {
		return []geometry.Point{path.Start, path.End()}
	}
	pts := make([]geometry.Point, len(st.starts[i]))
	for k, one := range st.starts[i] {
		pts[k] = onto.Apply(one.at)
	}
	return pts
}

// run returns a visit of a stop as a run of the step.
func (st *step) run(s *tour.Stop, at tour.Visit) Run {
	n := len(st.members)
	r := Run{Copy: at.Stop / n, Stroke: st.members[at.Stop%n], At: s.Entries[at.Entry]}
	if s.Closed {
		from := st.starts[at.Stop%n][at.Entry]
		r.Start, r.Along = from.segment, from.along
	} else {
		r.Reversed = at.Entry == 1
		past := st.past[at.Stop%n]
		r.BeforeMM, r.AfterMM = past[0], past[1]
	}
	return r
}
