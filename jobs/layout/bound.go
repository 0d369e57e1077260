package layout

import (
	"math"

	"knifedesk/geometry/nest"
	"knifedesk/jobs/workshop"
)

// bound returns a number of sheets, or of mm of roll with lead and tail, that no
// layout goes below, however the copies lie: their area over the usable area or
// width, and on a roll the extent of one copy. Rectangles that lie a gap apart take
// their own area and half a gap round it, all within the usable area grown by as
// much, which bounds them more tightly.
func (p Piece) bound(req Request, a area, allowed nest.Turns) float64 {
	s, n := req.Stock, float64(req.Copies)
	w, h := p.kept().Width(), p.kept().Height()
	width, gap := a.box.Width(), s.GapMM
	spread := 0.0
	if p.rectangular() {
		spread = n * (w + gap) * (h + gap)
	}
	if s.Form != workshop.Roll {
		length := a.box.Height()
		by := math.Max(n*p.solid()/(width*length), spread/((width+gap)*(length+gap)))
		return math.Max(1, math.Ceil(by-1e-9))
	}
	one := math.Inf(1)
	if allowed.Straight {
		one = h
	}
	if allowed.Quarter {
		one = math.Min(one, w)
	}
	need := math.Max(one, math.Max(n*p.solid()/width, spread/(width+gap)-gap))
	return s.LeadMM + need + s.TailMM
}
