package planar_test

import (
	"cmp"
	"math"
	"strconv"

	"knifedesk/geometry/planar"
)

// checkOffset compares an offset with round joins. There n chords, whose ends
// lie on the arc, stand for a quarter of it, so that their border lies up to
// r·(1 − cos(π/4n)) inside the exact one; ours keeps to it a hundred times closer.
func (p *published) checkOffset(areas []planar.Region) {
	by, err := strconv.ParseFloat(p.distance, 64)
	if err != nil {
		p.t.Errorf("%s: distance %q", p.name, p.distance)
	}
	n, err := strconv.ParseFloat(cmp.Or(p.quadrant, "8"), 64)
	if err != nil {
		p.t.Errorf("%s: chords %q", p.name, p.quadrant)
	}
	p.scale /= 8 // room for what grows
	for i := range areas {
		for _, ring := range areas[i].Rings {
			for k := range ring {
				ring[k] = ring[k].Mul(1.0 / 8)
			}
		}
	}
	arc := math.Abs(by) * p.scale * (1 - math.Cos(math.Pi/4/n))
	p.slack = p.slack/8 + arc
	p.compare(p.must(planar.Offset{By: by * p.scale, ChordMM: math.Max(arc/100, 1e-4)}.Of(nil, merged(areas))))
}
