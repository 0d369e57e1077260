package mend

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// Effort is the budget of the looks at lines that lie over or near each other,
// and where most of them went. It is counted in looks at a pair of lines, never
// in time, so that the same drawing ends alike on every machine. Once it is used
// up, every search finds nothing more and what the functions of this package
// return is of no use.
//
// A nil *Effort has no bound and is never stopped.
type Effort struct {
	stop  *budget.Budget // of the steps that are no looks
	looks *budget.Budget
	most  int          // looks of the search that took most of them
	at    geometry.Box // where that search was
}

// The looks that lines may take: a share that dense places can use up, and
// what any drawing needs for each of its segments. With them a drawing of 1 MB
// ends within 1.3 s (measured by the tests on hostile lines).
const (
	looksAtAll      = 5_400_000
	looksPerSegment = 64
)

// NewEffort returns the effort that a drawing of so many segments may take. It
// stops when b does.
func NewEffort(b *budget.Budget, segments int) *Effort {
	return &Effort{stop: b, looks: b.Allow(looksAtAll + looksPerSegment*segments), at: geometry.EmptyBox()}
}

// Crowd says that the effort is used up and where most of it went; nil where
// it is not.
func (e *Effort) Crowd() *Crowd {
	if !e.over() {
		return nil
	}
	return &Crowd{"lines over or near each other", e.looks.Allowed(), e.at}
}

func (e *Effort) over() bool { return e.budget().Over() }

// spend takes n looks.
func (e *Effort) spend(n int) { e.budget().Spend(n) }

// budget is that of the looks.
func (e *Effort) budget() *budget.Budget {
	if e == nil {
		return nil
	}
	return e.looks
}

// steps is the budget of what looks at no pair of lines. It has no bound.
func (e *Effort) steps() *budget.Budget {
	if e == nil {
		return nil
	}
	return e.stop
}

// boxed are items with boxes, found by where these lie: a tree or a part of one.
type boxed interface {
	Each(b *budget.Budget, box geometry.Box, visit func(item int) bool)
}

// each visits the items of t whose boxes overlap box, until visit returns false
// or the effort is used up.
func (e *Effort) each(t boxed, box geometry.Box, visit func(item int) bool) {
	looks := 0
	t.Each(e.budget(), box, func(item int) bool {
		looks++
		return visit(item)
	})
	e.searched(looks, box)
}

// round visits the points of g within reach of p, until the effort is used up.
func (e *Effort) round(g *near.Grid, p geometry.Point, reach float64, visit func(id int)) {
	before := e.budget().Spent()
	g.Near(e.budget(), p, reach, visit)
	e.searched(e.budget().Spent()-before, geometry.BoxAround(p).Grow(reach))
}

// searched notes that one search round a place took n looks.
func (e *Effort) searched(n int, at geometry.Box) {
	if e != nil && n > e.most {
		e.most, e.at = n, at
	}
}

// looksToCompare is what it costs to find where two pieces run together, of
// which curves are searched.
func looksToCompare(a, b *piece) int {
	if a.seg.Kind == geometry.Cubic || b.seg.Kind == geometry.Cubic {
		return 13
	}
	return 4
}

// Segments counts the segments of all strokes.
func Segments(strokes []artwork.Stroke) int {
	n := 0
	for i := range strokes {
		n += len(strokes[i].Path.Segments)
	}
	return n
}
