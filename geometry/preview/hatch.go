package preview

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// hatch returns parallel lines at angle deg and distance gap (pixels) that
// fill the rings by the even-odd rule.
func hatch(rings []geometry.Path, deg, gap float64) []geometry.Path {
	turn := geometry.Rotate(-deg * math.Pi / 180)
	back := geometry.Rotate(deg * math.Pi / 180)
	var flat [][]geometry.Point
	box := geometry.EmptyBox()
	for _, r := range rings {
		pts := r.Transform(turn).Flatten(0.3)
		flat = append(flat, pts)
		box = box.Union(geometry.BoxAround(pts...))
	}
	if box.Empty() {
		return nil
	}
	rows := make(map[int][]float64) // crossings by row
	first := math.Ceil(box.Min.Y / gap)
	for _, pts := range flat {
		for i := 1; i < len(pts); i++ {
			a, b := pts[i-1], pts[i]
			if a.Y > b.Y {
				a, b = b, a
			}
			for k := math.Ceil(a.Y / gap); k*gap < b.Y; k++ {
				t := (k*gap - a.Y) / (b.Y - a.Y)
				rows[int(k-first)] = append(rows[int(k-first)], a.X+(b.X-a.X)*t)
			}
		}
	}
	var lines []geometry.Path
	for k := 0; float64(k) <= (box.Max.Y-box.Min.Y)/gap+1; k++ {
		xs := rows[k]
		slices.Sort(xs)
		y := (first + float64(k)) * gap
		for i := 0; i+1 < len(xs); i += 2 {
			lines = append(lines, geometry.Polyline(back.Apply(geometry.Pt(xs[i], y)), back.Apply(geometry.Pt(xs[i+1], y))))
		}
	}
	return lines
}
