package figure

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// mostPoints is how many points of drawn lines one picture has room for. It
// keeps an SVG under 2 MB, however many lines and copies there are.
const mostPoints = 60_000

// Detail is lines without what is too small to be seen.
type Detail struct {
	Shown []geometry.Path // in the order of what was given; empty: left out
	// Least is the size in mm below which of several lines in one place only
	// one is shown, 0: all are shown.
	Least float64
}

// DetailOf returns the paths (mm) as they are where the picture has room for
// that many copies of them. Where it has not, they become polylines that stray
// by at most a quarter of a pixel, or half a pixel, or one. What is smaller
// than twice that becomes a short line, and of those that lie within one such
// square the first is shown.
func (p *Page) DetailOf(paths []geometry.Path, copies int) Detail {
	if weigh(paths)*copies <= mostPoints {
		return Detail{Shown: paths}
	}
	d := Detail{Shown: make([]geometry.Path, len(paths))}
	for tolerance := 0.25 / p.Scale; ; tolerance *= 2 {
		d.thin(p.b, paths, tolerance)
		if weigh(d.Shown)*copies <= mostPoints || tolerance*p.Scale > p.format.Drawing {
			return d
		}
	}
}

func (d *Detail) thin(b *budget.Budget, paths []geometry.Path, tolerance float64) {
	d.Least = 0
	side := 2 * tolerance
	taken := map[[2]float64]bool{}
	for i, q := range paths {
		b.Spend(1 + len(q.Segments))
		d.Shown[i] = geometry.Path{}
		if q.Empty() || !q.Finite() {
			continue
		}
		box := q.Bounds()
		if math.Max(box.Width(), box.Height()) >= side {
			d.Shown[i] = coarse(b, q, tolerance)
			continue
		}
		c := box.Centre()
		square := [2]float64{math.Floor(c.X / side), math.Floor(c.Y / side)}
		if taken[square] {
			d.Least = side
			continue
		}
		taken[square] = true
		d.Shown[i] = geometry.Polyline(box.Min, box.Max)
	}
}

// weigh counts points, control points included.
func weigh(paths []geometry.Path) int {
	n := 0
	for _, q := range paths {
		for _, s := range q.Segments {
			n++
			if s.Kind == geometry.Cubic {
				n += 2
			}
		}
	}
	return n
}

// flatten returns the vertices of a polyline within tolerance of q.
func flatten(b *budget.Budget, q geometry.Path, tolerance float64) []geometry.Point {
	pts := make([]geometry.Point, 1, len(q.Segments)+1)
	pts[0] = q.Start
	from := q.Start
	for _, s := range q.Segments {
		had := len(pts)
		pts = s.AppendFlat(pts, from, tolerance)
		from = s.End
		b.Spend(len(pts) - had)
	}
	return pts
}

// coarse returns a polyline through points of q that are at least tolerance
// apart, its ends kept.
func coarse(b *budget.Budget, q geometry.Path, tolerance float64) geometry.Path {
	pts := flatten(b, q, tolerance)
	few := pts[:1:1]
	for i, pt := range pts[1:] {
		if i == len(pts)-2 || pt.Dist(few[len(few)-1]) >= tolerance {
			few = append(few, pt)
		}
	}
	out := geometry.Polyline(few...)
	out.Closed = q.Closed && len(few) > 1
	return out
}
