package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Piece is what is laid out: its footprint, in its own coordinates.
type Piece struct {
	Bounds  geometry.Box `json:"bounds"`
	NetMM2  float64      `json:"net_mm2"`          // area of what is kept
	HullMM2 float64      `json:"hull_mm2"`         // area of the footprint
	Single  bool         `json:"single,omitempty"` // one part is kept, as of a sticker
	// AcrossMM and TurnedMM are the length of folds that run across the grain, as
	// drawn and turned by a quarter; both 0 on stock without one, or on which folds
	// do not mind it.
	AcrossMM float64 `json:"across_mm,omitempty"`
	TurnedMM float64 `json:"turned_mm,omitempty"`
}

// PieceOf returns the piece that a weeding map shows, on a stock.
func PieceOf(m *weeding.Map, s workshop.Stock) Piece {
	p := Piece{Bounds: m.Bounds, HullMM2: m.Bounds.Width() * m.Bounds.Height()}
	if s.FoldsMindGrain() {
		p.AcrossMM, p.TurnedMM = foldsAcross(*s.GrainDeg, m.Strokes)
	}
	kept := 0
	for i := range m.Regions {
		if m.Regions[i].Kept() {
			kept++
			p.NetMM2 += m.Regions[i].AreaMM2
		}
	}
	p.Single = kept == 1
	return p
}

// foldsAcross returns the length of folds across the grain, as drawn and turned
// by a quarter.
func foldsAcross(grainDeg float64, strokes []artwork.Stroke) (straight, turned float64) {
	for i := range strokes {
		if s := &strokes[i]; s.Operation == artwork.Score {
			straight += s.Path.LengthAcross(grainDeg)
			turned += s.Path.LengthAcross(grainDeg + 90)
		}
	}
	return straight, turned
}

// footprint is the area a copy covers: its hull, or its box where none is
// given.
func (p Piece) footprint() float64 {
	if p.HullMM2 > 0 {
		return p.HullMM2
	}
	return p.Bounds.Width() * p.Bounds.Height()
}

func (p Piece) size() nest.Size { return sizeOf(p.Bounds) }

func sizeOf(b geometry.Box) nest.Size { return nest.Size{WidthMM: b.Width(), LengthMM: b.Height()} }
