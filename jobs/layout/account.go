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
	u := Usage{}
	foot, net, solid, used, least := 0.0, 0.0, 0.0, 0.0, 0.0
	taped := make([]Load, len(j.Loads))
	for i, load := range j.Loads {
		u.StockMM2 += load.taken()
		box := geometry.EmptyBox()
		taped[i] = load
		taped[i].Placements = nil
		for k, at := range load.Placements {
			b.Step()
			piece := &batches[j.Of[i][k]].Piece
			box = box.Union(at.Bounds)
			foot, net, solid = foot+piece.footprint(), net+piece.NetMM2, solid+piece.solid()
			least = math.Max(least, math.Min(piece.kept().Width(), piece.kept().Height()))
			if needsTape(*piece, req) {
				taped[i].Placements = append(taped[i].Placements, at)
			}
		}
		used += box.Width() * box.Height()
		if j.area.roll {
			u.RollMM += load.LengthMM
		} else {
			u.Sheets += max(1, len(load.Sheets))
		}
	}
	u.NestWaste, u.ArtWaste, u.ProcessWaste = waste(foot, used), waste(net, used), waste(net, u.StockMM2)
	u.wastes(req)
	u.AreaBound = j.bound(req.Stock, solid, least)
	for _, load := range taped {
		if len(load.Placements) > 0 {
			u.tape(b, []Load{load}, req.Stock)
		}
	}
	last := len(j.Loads) - 1
	u.offcuts(b, func(k int) *Piece { return &batches[j.Of[last][k]].Piece }, j.Loads[last], req.Stock.GapMM)
	j.Usage = u
}

// bound is a number of sheets, or of mm of roll with lead and tail, that no layout goes
// below: by the area that no two copies share, and on a roll by the least extent of the
// longest copy.
func (j *Joint) bound(s workshop.Stock, solid, least float64) float64 {
	width, length := j.area.box.Width(), j.area.box.Height()
	if j.area.roll {
		return s.LeadMM + math.Max(least, solid/width) + s.TailMM
	}
	return math.Max(1, math.Ceil(solid/(width*length)-1e-9))
}
