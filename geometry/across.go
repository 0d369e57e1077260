package geometry

import "math"

// LengthAcross returns the length of p that lies more than 45° off the
// direction dirDeg, in degrees from the x axis. Curves count by chords that stay
// within 0.1 mm of them.
func (p Path) LengthAcross(dirDeg float64) float64 {
	sin, cos := math.Sincos(dirDeg * math.Pi / 180)
	dir := Pt(cos, sin)
	pts := p.Flatten(0.1)
	total := 0.0
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1])
		if math.Abs(d.Cross(dir)) > math.Abs(d.Dot(dir))*(1+1e-9) {
			total += d.Norm()
		}
	}
	return total
}
