package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// tapeGrip is how far transfer tape reaches past each end of a piece, in mm,
// so that there is something to hold it by (common practice, no source).
const tapeGrip = 10

// measure fills in what the layout takes from the stores.
func (l *Layout) measure(piece Piece, req Request, a area) {
	s := req.Stock
	copies := float64(req.Copies)
	u := Usage{}
	used := 0.0
	for _, load := range l.Loads {
		u.StockMM2 += load.WidthMM * load.LengthMM
		box := geometry.EmptyBox()
		for _, p := range load.Placements {
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
	u.tape(piece, s.TapeTack, copies)
	last := l.Loads[len(l.Loads)-1]
	if cut, ok := largestOffcut(last, s.GapMM); ok {
		u.Offcut = &cut
	}
	l.Usage = u
}

// footprint is the area a copy covers: its hull, or its box where none is
// given.
func (p Piece) footprint() float64 {
	if p.HullMM2 > 0 {
		return p.HullMM2
	}
	return p.Bounds.Width() * p.Bounds.Height()
}

func waste(kept, taken float64) float64 {
	if taken <= 0 {
		return 0
	}
	return math.Max(0, 1-kept/taken)
}

// tape counts a strip for every copy, along its longer side and as wide as
// the shorter.
func (u *Usage) tape(piece Piece, tack workshop.Tack, copies float64) {
	if tack == "" {
		return
	}
	w, h := piece.Bounds.Width(), piece.Bounds.Height()
	strip := math.Max(w, h) + 2*tapeGrip
	u.TapeTack = tack
	u.TapeM = copies * strip / 1000
	u.TapeMM2 = copies * strip * math.Min(w, h)
}
