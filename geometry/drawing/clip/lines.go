package clip

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/geometry/planar"
)

// pane is a region of a window with its sides in a tree.
type pane struct {
	rule  planar.Rule
	sides [][2]geometry.Point
	box   geometry.Box // of the sides
	tree  *near.Tree
}

func paneOf(b *budget.Budget, r planar.Region) pane {
	p := pane{rule: r.Rule, box: geometry.EmptyBox()}
	var boxes []geometry.Box
	for _, ring := range r.Rings {
		for i, from := range ring {
			to := ring[(i+1)%len(ring)]
			p.sides = append(p.sides, [2]geometry.Point{from, to})
			boxes = append(boxes, geometry.BoxAround(from, to))
			p.box = p.box.Include(from)
		}
	}
	p.tree = near.NewTree(b, boxes)
	return p
}

// shows reports whether at lies in the region: the sides that a ray from it to
// the right crosses are counted, signed.
func (p *pane) shows(b *budget.Budget, at geometry.Point) bool {
	if !p.box.Contains(at) {
		return false
	}
	n := 0
	p.tree.Each(b, geometry.BoxAround(at, geometry.Pt(p.box.Max.X, at.Y)), func(i int) bool {
		n += near.Crosses(p.sides[i][0], p.sides[i][1], at)
		return true
	})
	return p.rule == planar.EvenOdd && n%2 != 0 || p.rule == planar.NonZero && n != 0
}

// crossings adds to at where, from 0 to 1 along a to c, the sides cross.
func (p *pane) crossings(b *budget.Budget, at []float64, a, c geometry.Point) []float64 {
	d := c.Sub(a)
	p.tree.Each(b, geometry.BoxAround(a, c), func(i int) bool {
		side := p.sides[i]
		e := side[1].Sub(side[0])
		det := d.Cross(e)
		if det == 0 {
			return true // parallel: the neighbours' ends tell
		}
		t, u := side[0].Sub(a).Cross(e)/det, side[0].Sub(a).Cross(d)/det
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			at = append(at, t)
		}
		return true
	})
	return at
}

// cutter cuts lines off at the panes of a window.
type cutter struct {
	budget *budget.Budget
	panes  []pane
}

// lines cuts stroked paths as lines: each into the runs that show.
func (w window) lines(b *budget.Budget, paths []geometry.Path, chord float64) []geometry.Path {
	c := cutter{budget: b}
	for _, r := range w.regions {
		c.panes = append(c.panes, paneOf(b, r))
	}
	var out []geometry.Path
	for _, p := range paths {
		runs, touched := c.runs(p.FlattenIn(b, chord))
		switch {
		case !touched && len(runs) > 0:
			out = append(out, p) // wholly inside: its curves stay
		case touched:
			out = append(out, joined(runs, p.Closed)...)
		}
	}
	return out
}

// runs returns the stretches of the polyline inside the window, and whether
// the window's edge takes anything off it.
func (c *cutter) runs(pts []geometry.Point) (runs [][]geometry.Point, touched bool) {
	var run []geometry.Point
	flush := func() {
		if len(run) > 1 {
			runs = append(runs, run)
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		from := a
		for _, t := range append(c.crossings(a, b), 1) {
			to := a.Lerp(b, t)
			if !c.shows(from.Lerp(to, 0.5)) {
				touched = true
				flush()
			} else {
				if run == nil {
					run = []geometry.Point{from}
				}
				run = append(run, to)
			}
			from = to
		}
	}
	flush()
	return runs, touched
}

// joined turns runs into paths. The last run of a closed path goes on in the
// first where it starts and ends inside.
func joined(runs [][]geometry.Point, closed bool) []geometry.Path {
	if n := len(runs); closed && n > 1 && runs[n-1][len(runs[n-1])-1] == runs[0][0] {
		runs[0] = append(runs[n-1], runs[0][1:]...)
		runs = runs[:n-1]
	}
	out := make([]geometry.Path, len(runs))
	for i, r := range runs {
		out[i] = geometry.Polyline(r...)
	}
	return out
}

// crossings returns where, from 0 to 1 along a to b, the window's edges cross,
// in order.
func (c *cutter) crossings(a, b geometry.Point) []float64 {
	c.budget.Step()
	var at []float64
	for i := range c.panes {
		at = c.panes[i].crossings(c.budget, at, a, b)
	}
	slices.Sort(at)
	return at
}

// shows reports whether p lies in one of the window's regions.
func (c *cutter) shows(p geometry.Point) bool {
	for i := range c.panes {
		if c.panes[i].shows(c.budget, p) {
			return true
		}
	}
	return false
}
