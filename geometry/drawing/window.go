package drawing

import "knifedesk/geometry"

// beyondAll is how far from 0 the corners of a clip may lie: their sums stay exact to
// far less than a unit of a drawing.
const beyondAll = 1e12

// Windowed returns the regions of a clip as they can be computed with: polygons that reach
// more than farthest from 0 are cut off there, which leaves all winding numbers inside as
// they are (Sutherland and Hodgman, Reentrant polygon clipping, 1974). Where a curve reaches
// so far, or a corner beyond all numbers, it returns its region and false.
func Windowed(regions []Region, farthest float64) ([]Region, bool) {
	out := make([]Region, len(regions))
	for i, g := range regions {
		out[i] = g
		if Ordinary(g.Paths, farthest) {
			continue
		}
		out[i].Paths = make([]geometry.Path, 0, len(g.Paths))
		for _, p := range g.Paths {
			corners, ok := cornersOf(p)
			if !ok {
				return regions[i : i+1], false
			}
			for _, turn := range []geometry.Affine{{A: 1, D: 1}, {B: 1, C: -1}, {A: -1, D: -1}, {B: -1, C: 1}} {
				corners = cutOff(corners, turn, farthest)
			}
			if len(corners) > 0 {
				out[i].Paths = append(out[i].Paths, geometry.Polygon(corners...))
			}
		}
	}
	return out, true
}

// cornersOf returns the corners of a path of straight lines.
func cornersOf(p geometry.Path) ([]geometry.Point, bool) {
	corners := []geometry.Point{p.Start}
	for _, s := range p.Segments {
		if s.Kind != geometry.Line {
			return nil, false
		}
		corners = append(corners, s.End)
	}
	for _, q := range corners {
		if !near(q, beyondAll) {
			return nil, false
		}
	}
	return corners, true
}

// cutOff returns the part of a polygon where x, after a turn, is at most limit.
func cutOff(corners []geometry.Point, turn geometry.Affine, limit float64) []geometry.Point {
	var left []geometry.Point
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		a, b := turn.Apply(p).X-limit, turn.Apply(q).X-limit
		if a <= 0 {
			left = append(left, p)
		}
		if a < 0 && b > 0 || a > 0 && b < 0 {
			left = append(left, p.Add(q.Sub(p).Mul(a/(a-b))))
		}
	}
	return left
}
