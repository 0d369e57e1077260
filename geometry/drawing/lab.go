package drawing

import "github.com/lucasb-eyer/go-colorful"

// cones is the Bradford matrix: cone responses from XYZ (Lam 1985; in the
// profile specification ICC.1:2022, annex E).
func cones() [3][3]float64 {
	return [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
}

// rays is the inverse of cones.
func rays() [3][3]float64 {
	return [3][3]float64{{0.9869929, -0.1470543, 0.1599627}, {0.4323053, 0.5183603, 0.0492912}, {-0.0085287, 0.0400428, 0.9684867}}
}

// FromLab returns the sRGB colour of CIE Lab values (L from 0 to 100) under
// the given white point, adapted to the white of sRGB by the Bradford
// transform. What sRGB cannot show is clipped.
func FromLab(l, a, b float64, white [3]float64) Colour {
	x, y, z := colorful.LabToXyzWhiteRef(l/100, a/100, b/100, white)
	seen := times(cones(), [3]float64{x, y, z})
	from, to := times(cones(), white), times(cones(), [3]float64{0.95047, 1, 1.08883})
	for i := range seen {
		if from[i] != 0 {
			seen[i] *= to[i] / from[i]
		}
	}
	xyz := times(rays(), seen)
	red, green, blue := colorful.Xyz(xyz[0], xyz[1], xyz[2]).Clamped().RGB255()
	return Colour{red, green, blue}
}

func times(m [3][3]float64, v [3]float64) (out [3]float64) {
	for i, row := range m {
		out[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return out
}
