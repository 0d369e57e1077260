package evidence

import (
	"math"

	"knifedesk/geometry"
)

// Circles tell a stretched drawing from an edited frame: a stretch makes every
// circle an ellipse by the same factor, an edit leaves them round.

// maxRoundPaths bounds the paths that are looked at.
const maxRoundPaths = 2000

// leastTell is the difference, in mm, that a circle has to show.
const leastTell = 0.2

// ellipseOf returns the half axes, along the axes of m, of a closed path that
// runs along an ellipse with its axes there, and whether it does. A polygon
// counts from 12 corners on.
func ellipseOf(p *geometry.Path, m geometry.Affine) (a, b float64, ok bool) {
	if !p.Closed || len(p.Segments) < 2 || len(p.Segments) > 400 {
		return 0, 0, false
	}
	straight := 0
	for _, s := range p.Segments {
		if s.Kind == geometry.Line {
			straight++
		}
	}
	if straight > 0 && straight < 12 {
		return 0, 0, false
	}
	q := p.Transform(m)
	box := q.Bounds()
	a, b = box.Width()/2, box.Height()/2
	if !(a > 0 && b > 0) {
		return 0, 0, false
	}
	c := box.Centre()
	for _, v := range q.Flatten(0.05 * math.Min(a, b)) {
		x, y := (v.X-c.X)/a, (v.Y-c.Y)/b
		if math.Abs(x*x+y*y-1) > 0.02 {
			return 0, 0, false
		}
	}
	return a, b, true
}

// Roundness counts what the closed curves of the artwork say of a frame whose
// sides would need the factors fu and fv: how many have become ellipses by just
// that ratio, and how many are round. Curves too small to tell count for neither.
func (s *Survey) Roundness(items []Item, q *Quad, fu, fv float64) (stretched, round int) {
	m := q.Own()
	looked := 0
	for _, it := range items {
		if looked == maxRoundPaths {
			break
		}
		p := s.Path(it)
		if !p.Closed {
			continue
		}
		looked++
		s.Budget.Spend(1 + min(len(p.Segments), 400)/8)
		a, b, ok := ellipseOf(p, m)
		if !ok {
			continue
		}
		off := 2 * math.Abs(a-b) * fu                // mm, if nothing is stretched
		mended := 2 * math.Abs(a*fu-b*fv)            // mm, after the per-axis mend
		tell := 2 * math.Abs(fu-fv) * math.Min(a, b) // mm between the two
		switch {
		case tell < leastTell:
		case mended < tell/4:
			stretched++
		case off < tell/4:
			round++
		}
	}
	return stretched, round
}
