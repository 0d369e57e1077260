package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// Piece is what is laid out: its footprint, in its own coordinates.
type Piece struct {
	Bounds  geometry.Box `json:"bounds"`
	NetMM2  float64      `json:"net_mm2"`          // area of what is kept
	HullMM2 float64      `json:"hull_mm2"`         // area of the footprint
	Single  bool         `json:"single,omitempty"` // one part is kept, as of a sticker
	// KeepGrain forbids a quarter turn on stock with a grain, so that folds
	// stay as they were drawn to it.
	KeepGrain bool `json:"keep_grain,omitempty"`
}

// PieceOf returns the piece that a weeding map shows, on stock whose grain runs
// in grainDeg, in degrees from the x axis, or has none where that is nil.
func PieceOf(m *weeding.Map, grainDeg *float64) Piece {
	p := Piece{
		Bounds: m.Bounds, HullMM2: m.Bounds.Width() * m.Bounds.Height(),
		KeepGrain: grainDeg != nil && foldsFollow(*grainDeg, m.Strokes),
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

// foldsFollow reports whether more of the folds would run across the grain if
// the piece were turned by a quarter.
func foldsFollow(grainDeg float64, strokes []artwork.Stroke) bool {
	straight, turned := 0.0, 0.0
	for i := range strokes {
		if s := &strokes[i]; s.Operation == artwork.Score {
			straight += s.Path.LengthAcross(grainDeg)
			turned += s.Path.LengthAcross(grainDeg + 90)
		}
	}
	return turned > straight
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
