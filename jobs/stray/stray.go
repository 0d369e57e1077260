// Package stray says what a drawing holds that is no line: marks too short for
// a knife, and what is not painted. The true size is measured without them and
// the artwork is made without them, so that both speak of the same lines.
package stray

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// LeastMM is the extent at true size below which a path is a point: a fifth of
// the offset of the finest blade, which cannot turn in it (common practice, no
// source).
const LeastMM = 0.05

// Point reports whether a path whose box is b, in mm at true size, is a point.
func Point(b geometry.Box) bool { return b.Empty() || math.Max(b.Width(), b.Height()) < LeastMM }

// Unpainted reports whether a path of a shape shows nothing: it has neither
// line nor fill, or a fill that is as flat as a line, within the given
// tolerance in the units of the path.
func Unpainted(s *drawing.Shape, p *geometry.Path, flat float64) bool {
	return s.Stroke == nil && (s.Fill == nil || p.OnLine(flat))
}
