package layout

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Piece is what is laid out, in its own coordinates.
type Piece struct {
	Bounds geometry.Box `json:"bounds"` // with its weed border
	// Outline is what a copy takes of the stock: closed shapes, and open lines beside
	// them. Where it is empty the bounds are.
	Outline []geometry.Path `json:"outline,omitempty"`
	// Openings are holes within the outline that come out empty: other copies may be
	// cut of what falls out.
	Openings []geometry.Path `json:"openings,omitempty"`
	Kept     geometry.Box    `json:"kept"`     // round what is kept; the zero box: the bounds
	NetMM2   float64         `json:"net_mm2"`  // area of what is kept
	FootMM2  float64         `json:"foot_mm2"` // area within the outline; 0: of the bounds
	// SolidMM2 is an area that no two copies can share: the outline with its holes
	// filled where one part is kept, whose like fits into none of them, and else what
	// is kept; 0: the footprint.
	SolidMM2 float64 `json:"solid_mm2,omitempty"`
	Single   bool    `json:"single,omitempty"`   // one part is kept, as of a sticker
	Bordered bool    `json:"bordered,omitempty"` // it has a weed border
	// AcrossMM and TurnedMM are the length of folds that run across the grain, as
	// drawn and turned by a quarter; both 0 on stock without one, or on which folds
	// do not mind it.
	AcrossMM float64 `json:"across_mm,omitempty"`
	TurnedMM float64 `json:"turned_mm,omitempty"`
	// Map is the weeding map of what may be divided into panels; nil: nothing is.
	Map *weeding.Map `json:"-"`
}

// PieceOf returns the piece that a weeding map shows, on a stock.
func PieceOf(m *weeding.Map, s workshop.Stock) Piece {
	p := Piece{Bounds: m.Bounds, Kept: geometry.EmptyBox()}
	if s.FoldsMindGrain() {
		p.AcrossMM, p.TurnedMM = foldsAcross(*s.GrainDeg, m.Strokes)
	}
	kept, parts, filled := 0, 0, 0.0
	for i := range m.Regions {
		r := &m.Regions[i]
		p.Bordered = p.Bordered || r.Class == weeding.Surround
		if r.Depth <= outermost {
			p.Outline = append(p.Outline, r.Outer)
		}
		if !r.Kept() {
			continue
		}
		kept++
		p.NetMM2 += r.AreaMM2
		if r.Depth <= outermost {
			parts++
			filled += math.Abs(r.Outer.Area())
			p.Kept = p.Kept.Union(r.Outer.Bounds())
		}
	}
	p.FootMM2, p.SolidMM2 = filled, p.NetMM2
	if parts == 1 {
		p.SolidMM2 = filled
	}
	if p.Bordered {
		p.FootMM2 = m.Bounds.Width() * m.Bounds.Height()
	}
	for i := range m.Strokes {
		if s := &m.Strokes[i]; !s.Path.Closed || !s.Operation.Cuts() {
			p.Outline = append(p.Outline, s.Path)
		}
	}
	p.Openings = openings(m)
	if p.Kept.Empty() {
		p.Kept = p.Bounds
	}
	p.Single = kept == 1
	return p
}

// openings returns the counters that fall out of a piece whole: cut through, with
// nothing drawn in them. Out of film they are peeled, and what lay in them would come
// along.
func openings(m *weeding.Map) []geometry.Path {
	if slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool { return s.Operation == artwork.KissCut }) {
		return nil
	}
	var all []geometry.Path
	for i := range m.Regions {
		r := &m.Regions[i]
		if r.Class != weeding.Counter || r.Depth != outermost+1 || r.Of != 0 || len(r.Holes) > 0 {
			continue
		}
		box := r.Outer.Bounds()
		drawn := slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool { return !s.Operation.Cuts() && s.Path.Bounds().Overlaps(box) })
		if !drawn {
			all = append(all, r.Outer)
		}
	}
	return all
}

// outermost is the depth of the shapes that lie in no other: the surround has 0.
const outermost = 1

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

// footprint is the area that a copy takes of the stock.
func (p Piece) footprint() float64 {
	if p.FootMM2 > 0 {
		return p.FootMM2
	}
	return p.Bounds.Width() * p.Bounds.Height()
}

// solid is an area that no two copies can share.
func (p Piece) solid() float64 {
	if p.SolidMM2 > 0 {
		return p.SolidMM2
	}
	return p.footprint()
}

// kept is the box round what is kept.
func (p Piece) kept() geometry.Box {
	if p.Kept == (geometry.Box{}) {
		return p.Bounds
	}
	return p.Kept
}

// rectangular reports whether what no two copies can share is a whole rectangle.
func (p Piece) rectangular() bool {
	const round = 1e-6 // of the area, lost by flattening
	return p.solid() >= p.kept().Width()*p.kept().Height()*(1-round)
}

// outline returns what a copy takes of the stock.
func (p Piece) outline() []geometry.Path {
	if len(p.Outline) == 0 {
		return []geometry.Path{p.Bounds.Path()}
	}
	return p.Outline
}

func (p Piece) size() nest.Size { return sizeOf(p.Bounds) }

func sizeOf(b geometry.Box) nest.Size { return nest.Size{WidthMM: b.Width(), LengthMM: b.Height()} }
