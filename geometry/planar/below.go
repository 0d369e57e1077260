package planar

import (
	"slices"
	"sort"

	"knifedesk/geometry/budget"
)

// sweepBelow answers edgesBelow for the vertices listed in far, by a sweep
// from left to right over all edges that pass one of them in x.
func (l *locator) sweepBelow(b *budget.Budget, vertices, far []int32, below []HalfEdge) {
	at := func(i int32) node { return l.m.nodes[vertices[i]] }
	slices.SortFunc(far, func(i, j int32) int {
		b.Step()
		return at(i).compare(at(j))
	})
	xs := make([]int32, len(far))
	for k, i := range far {
		xs[k] = at(i).x
	}
	xs = slices.Compact(xs)
	starting, ending := l.passing(b, xs)
	var o order
	for _, i := range far {
		b.Step()
		p := at(i)
		for ; len(ending) > 0 && ending[0].line.b.x < p.x; ending = ending[1:] {
			b.Step()
			o.remove(ending[0])
		}
		for ; len(starting) > 0 && starting[0].line.a.x < p.x; starting = starting[1:] {
			b.Step()
			o.insert(starting[0])
		}
		below[i] = o.under(p)
	}
}

// passed is an edge that runs over a place of interest: its line from left to
// right, and its upper side.
type passed struct {
	line segment
	up   HalfEdge
}

// passing returns the edges that begin left of one of the sorted xs and end
// there or farther right, by their start and by their end.
func (l *locator) passing(b *budget.Budget, xs []int32) (starting, ending []passed) {
	for i := range l.m.Edges {
		b.Step()
		s, up := l.rightward(int32(i))
		if k, _ := slices.BinarySearch(xs, s.a.x+1); k < len(xs) && xs[k] <= s.b.x {
			starting = append(starting, passed{s, up})
		}
	}
	ending = slices.Clone(starting)
	slices.SortFunc(starting, func(p, q passed) int {
		b.Step()
		return p.line.a.compare(q.line.a)
	})
	slices.SortFunc(ending, func(p, q passed) int {
		b.Step()
		return p.line.b.compare(q.line.b)
	})
	return starting, ending
}

// order holds edges that all pass the same upright line, from the lowest to
// the highest, in short runs, so that inserting moves little.
type order struct{ runs [][]passed }

// longestRun is the length at which a run is cut in two.
const longestRun = 256

// find returns the run and the place in it of the first edge for which upTo
// is false; edges for which it is true must lie below the others.
func (o *order) find(upTo func(passed) bool) (run, at int) {
	run = sort.Search(len(o.runs), func(r int) bool { return !upTo(o.runs[r][0]) })
	if run = max(0, run-1); len(o.runs) == 0 {
		return 0, 0
	}
	return run, sort.Search(len(o.runs[run]), func(k int) bool { return !upTo(o.runs[run][k]) })
}

func (o *order) insert(e passed) {
	run, at := o.find(func(f passed) bool { return e.line.above(f.line) })
	if len(o.runs) == 0 {
		o.runs = append(o.runs, nil)
	}
	r := slices.Insert(o.runs[run], at, e)
	o.runs[run] = r
	if len(r) == longestRun {
		o.runs = slices.Insert(o.runs, run+1, slices.Clone(r[longestRun/2:]))
		o.runs[run] = r[:longestRun/2]
	}
}

// remove takes e out.
func (o *order) remove(e passed) {
	run, past := o.find(func(f passed) bool { return f.up == e.up || e.line.above(f.line) })
	if o.runs[run] = slices.Delete(o.runs[run], past-1, past); len(o.runs[run]) == 0 {
		o.runs = slices.Delete(o.runs, run, run+1)
	}
}

// under returns the upper side of the highest edge below p, or −1.
func (o *order) under(p node) HalfEdge {
	run, at := o.find(func(f passed) bool { return cross(f.line.a, f.line.b, p) > 0 })
	if at == 0 {
		return -1
	}
	return o.runs[run][at-1].up
}
