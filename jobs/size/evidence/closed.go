package evidence

import (
	"math"

	"knifedesk/geometry"
)

// endShare is how near two ends lie, against the extent of the work, to be
// taken for one.
const endShare = 1e-4

// Closed reports whether any of the work is a closed shape, drawn whole or of
// lines that come back to where they began. Specks are none: their ends are as
// near as those of a line that is closed.
func (s *Survey) Closed(w *Work) bool {
	step := endShare * math.Max(w.lines.Width(), w.lines.Height())
	at := func(p geometry.Point) [2]float64 { return [2]float64{math.Round(p.X / step), math.Round(p.Y / step)} }
	joined := map[[2]float64][2]float64{}
	root := func(k [2]float64) [2]float64 {
		for next, ok := joined[k]; ok && next != k; next, ok = joined[k] {
			if far, ok := joined[next]; ok {
				joined[k] = far
			}
			k = next
			s.Budget.Step()
		}
		joined[k] = k
		return k
	}
	for _, it := range w.Items {
		s.Budget.Step()
		if it.speck {
			continue
		}
		p := s.Path(it)
		from, to := root(at(p.Start)), root(at(p.End()))
		if p.Closed || from == to {
			return true
		}
		joined[from] = to
	}
	return false
}
