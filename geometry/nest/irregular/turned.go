package irregular

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/planar"
)

// onGrid returns the rings of an area in steps.
func onGrid(area planar.Polygons) [][]outline.Point {
	var rings [][]outline.Point
	for _, ring := range area.Region().Rings {
		var out []outline.Point
		for _, p := range ring {
			out = append(out, outline.Point{X: int64(steps(p.X)), Y: int64(steps(p.Y))})
		}
		rings = append(rings, out)
	}
	return rings
}

// offGrid returns outer rings as an area in mm.
func offGrid(rings [][]outline.Point) planar.Polygons {
	var area planar.Polygons
	for _, ring := range rings {
		var out []geometry.Point
		for _, p := range ring {
			out = append(out, geometry.Pt(float64(p.X)/planar.PerMM, float64(p.Y)/planar.PerMM))
		}
		area = append(area, planar.Polygon{Outer: out})
	}
	return area
}

func turnedRings(rings [][]outline.Point, c, s float64) [][]outline.Point {
	out := make([][]outline.Point, len(rings))
	for i, ring := range rings {
		for _, p := range ring {
			x, y := turned(float64(p.X), float64(p.Y), c, s)
			out[i] = append(out[i], outline.Point{X: int64(math.Floor(x + 0.5)), Y: int64(math.Floor(y + 0.5))})
		}
	}
	return out
}

func turnedPoles(poles []outline.Pole, c, s float64) []outline.Pole {
	out := make([]outline.Pole, len(poles))
	for i, p := range poles {
		x, y := turned(p.X, p.Y, c, s)
		out[i] = outline.Pole{X: x, Y: y, R: p.R}
	}
	return out
}

func turned(x, y, c, s float64) (tx, ty float64) {
	return float64(x*c) - float64(y*s), float64(x*s) + float64(y*c)
}

// cosSin returns the cosine and the sine of an angle: exact for quarter turns,
// and the same on every machine for others, by Taylor's series within 45°.
func cosSin(degrees float64) (c, s float64) {
	degrees = math.Mod(degrees, 360)
	quarter := math.Floor(degrees/90 + 0.5)
	a := float64((degrees - float64(90*quarter)) * (math.Pi / 180))
	square := float64(a * a)
	c, s = 1, a
	even, odd := 1.0, a
	for k := 2.0; k < 24; k += 2 {
		even = -float64(even*square) / (k * (k - 1))
		odd = -float64(odd*square) / (k * (k + 1))
		c += even
		s += odd
	}
	switch (int(quarter) + 8) % 4 {
	case 1:
		return -s, c
	case 2:
		return -c, -s
	case 3:
		return s, -c
	}
	return c, s
}
