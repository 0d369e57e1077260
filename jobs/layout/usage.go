package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
)

// leastOffcut is the shorter side from which a remainder is worth keeping, in
// mm (common practice, no source).
const leastOffcut = 50

// measure fills in what the layout takes from the stores.
func (l *Layout) measure(b *budget.Budget, piece Piece, req Request, a area) {
	s := req.Stock
	copies := float64(req.Copies)
	u := Usage{}
	used := 0.0
	for _, load := range l.Loads {
		u.StockMM2 += load.WidthMM * load.LengthMM
		box := geometry.EmptyBox()
		for _, p := range load.Placements {
			b.Step()
			box = box.Union(p.Bounds)
		}
		used += box.Width() * box.Height()
	}
	foot := piece.footprint()
	u.NestWaste = waste(foot*copies, used)
	u.ArtWaste = waste(piece.NetMM2*copies, used)
	u.ProcessWaste = waste(piece.NetMM2*copies, u.StockMM2)
	if a.roll {
		u.RollMM = l.Loads[0].LengthMM
		u.AreaBound = s.LeadMM + foot*copies/a.box.Width() + s.TailMM
	} else {
		u.Sheets = len(l.Loads)
		u.AreaBound = math.Ceil(foot*copies/(a.box.Width()*a.box.Height()) - 1e-9)
	}
	if needsTape(piece, req) {
		u.tape(b, l.Loads, s.TapeTack)
	}
	last := l.Loads[len(l.Loads)-1]
	if cut, ok := offcut(b, last, s.GapMM); ok {
		u.Offcut = &cut
	}
	l.Usage = u
}

// offcut returns the largest rectangle that the copies leave free of a load, and
// whether it is worth keeping. It is trimmed by hand, without margins.
func offcut(b *budget.Budget, load Load, gap float64) (geometry.Box, bool) {
	taken := make([]geometry.Box, len(load.Placements))
	for i, p := range load.Placements {
		taken[i] = p.Bounds
	}
	free := nest.Free(b, geometry.Box{Max: geometry.Pt(load.WidthMM, load.LengthMM)}, gap, taken)
	return free, free.Width() >= leastOffcut && free.Height() >= leastOffcut
}

// waste is the share of what was taken that is not kept.
func waste(kept, taken float64) float64 {
	if taken <= 0 {
		return 0
	}
	return math.Max(0, 1-kept/taken)
}
