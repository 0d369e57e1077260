// Package mendedtest compares what two files draw, for tests.
package mendedtest

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// sampleMM is how far the points that are compared lie apart.
const sampleMM = 3

// Differ says where strokes of a lie further than mm from those of b of the same
// operation, or those of b from a; "" for nowhere. Both are moved to the origin first.
// Points of the lines are compared and not the strokes, whose beginnings are nobody's
// concern.
func Differ(a, b []artwork.Stroke, mm float64) string {
	if d := strays(a, b, mm); d != "" {
		return "lost " + d
	}
	if d := strays(b, a, mm); d != "" {
		return "made " + d
	}
	return ""
}

// strays finds a point of a that is not on b.
func strays(a, b []artwork.Stroke, mm float64) string {
	from, to := corner(a), corner(b)
	grids := map[artwork.Operation]*index{}
	for i := range b {
		s := &b[i]
		if grids[s.Operation] == nil {
			grids[s.Operation] = &index{}
		}
		grids[s.Operation].add(s.Path, to)
	}
	for i := range a {
		g := grids[a[i].Operation]
		if g == nil {
			return fmt.Sprintf("all that is %s", a[i].Operation)
		}
		for _, p := range samples(a[i].Path) {
			if d := g.dist(p.Sub(from), mm); d > mm {
				return fmt.Sprintf("%s at %.4f %.4f by more than %g mm", a[i].Operation, p.X-from.X, p.Y-from.Y, mm)
			}
		}
	}
	return ""
}

func corner(all []artwork.Stroke) geometry.Point {
	box := geometry.EmptyBox()
	for i := range all {
		box = box.Union(all[i].Path.Bounds())
	}
	return box.Min
}

// samples are points on a path.
func samples(p geometry.Path) []geometry.Point {
	pts := []geometry.Point{p.Start}
	from := p.Start
	for _, s := range p.Segments {
		n := int(math.Min(20, math.Ceil(from.Dist(s.End)/sampleMM))) + 1
		one := geometry.Path{Start: from, Segments: []geometry.Segment{s}}
		flat := one.Flatten(chordMM)
		for i := range n {
			pts = append(pts, flat[len(flat)*i/n])
		}
		pts = append(pts, s.End)
		from = s.End
	}
	return pts
}

// chordMM is how finely curves are followed, well within what is compared.
const chordMM = 1e-4

// index finds the pieces of flattened lines near a point.
type index struct {
	boxes []geometry.Box
	ends  [][2]geometry.Point
	tree  *near.Tree
}

func (x *index) add(p geometry.Path, origin geometry.Point) {
	pts := p.Flatten(chordMM)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1].Sub(origin), pts[i].Sub(origin)
		x.boxes, x.ends = append(x.boxes, geometry.BoxAround(a, b)), append(x.ends, [2]geometry.Point{a, b})
	}
}

// dist returns how far the point is from the lines, anything above within where none
// is as near.
func (x *index) dist(p geometry.Point, within float64) float64 {
	if x.tree == nil {
		x.tree = near.NewTree(nil, x.boxes)
	}
	least := math.Inf(1)
	x.tree.Each(nil, geometry.BoxAround(p).Grow(within), func(i int) bool {
		least = math.Min(least, p.DistToSegment(x.ends[i][0], x.ends[i][1]))
		return least > within
	})
	return least
}
