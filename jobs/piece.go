package jobs

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// pieceOf is what is laid out of a weeding map.
func pieceOf(m *weeding.Map, s workshop.Stock) layout.Piece {
	piece := layout.Piece{
		Bounds: m.Bounds, HullMM2: m.Bounds.Width() * m.Bounds.Height(),
		KeepGrain: foldsFollow(s.GrainDeg, m.Strokes),
	}
	for i := range m.Regions {
		if m.Regions[i].Kept() {
			piece.NetMM2 += m.Regions[i].AreaMM2
		}
	}
	return piece
}

// foldsFollow reports whether more of the folds would run across the grain, in
// degrees from the x axis, if the piece were turned by a quarter.
func foldsFollow(grain *float64, strokes []artwork.Stroke) bool {
	if grain == nil {
		return false
	}
	straight, turned := 0.0, 0.0
	for i := range strokes {
		if s := &strokes[i]; s.Operation == artwork.Score {
			straight += passes.AcrossGrain(s.Path, *grain)
			turned += passes.AcrossGrain(s.Path, *grain+90)
		}
	}
	return turned > straight
}
