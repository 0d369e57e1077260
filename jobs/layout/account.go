package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/workshop"
)

// account fills in what common loads take from the stores.
func (j *Joint) account(b *budget.Budget, batches []Batch, req Request) {
	if len(j.Loads) == 0 {
		return
	}
	u, sum := Usage{}, sums{}
	for i, load := range j.Loads {
		u.StockMM2 += load.taken()
		if j.area.roll {
			u.RollMM += load.LengthMM
		} else {
			u.Sheets += max(1, len(load.Sheets))
		}
		onTape := load
		onTape.Placements = sum.add(b, batches, j.Of[i], load, req)
		if len(onTape.Placements) > 0 {
			u.tape(b, []Load{onTape}, req.Stock)
		}
	}
	u.NestWaste, u.ArtWaste, u.ProcessWaste = waste(sum.foot, sum.used), waste(sum.net, sum.used), waste(sum.net, u.StockMM2)
	u.wastes(req)
	u.AreaBound = j.bound(req.Stock, sum)
	last := len(j.Loads) - 1
	u.offcuts(b, func(k int) *Piece { return &batches[j.Of[last][k]].Piece }, j.Loads[last], req.Stock.GapMM)
	j.Usage = u
}

// sums are areas of all copies in mm², and the least extent of the longest in mm.
type sums struct{ foot, net, solid, used, least float64 }

// add adds the copies of a load, and returns those that are carried on tape.
func (s *sums) add(b *budget.Budget, batches []Batch, of []int, load Load, req Request) (taped []Placement) {
	box := geometry.EmptyBox()
	for k, at := range load.Placements {
		b.Step()
		piece := &batches[of[k]].Piece
		box = box.Union(at.Bounds)
		s.foot, s.net, s.solid = s.foot+piece.footprint(), s.net+piece.NetMM2, s.solid+piece.solid()
		s.least = math.Max(s.least, math.Min(piece.kept().Width(), piece.kept().Height()))
		if needsTape(*piece, req) {
			taped = append(taped, at)
		}
	}
	s.used += box.Width() * box.Height()
	return taped
}

// bound is a number of sheets, or of mm of roll with lead and tail, that no layout goes
// below: by the area that no two copies share, and on a roll by the least extent of the
// longest copy.
func (j *Joint) bound(s workshop.Stock, of sums) float64 {
	width, length := j.area.box.Width(), j.area.box.Height()
	if j.area.roll {
		return s.LeadMM + math.Max(of.least, of.solid/width) + s.TailMM
	}
	return math.Max(1, math.Ceil(of.solid/(width*length)-1e-9))
}
