// Package layout lays pieces out on sheets and rolls and counts what they use.
package layout

import (
	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Request is what the job needs besides the piece.
type Request struct {
	Stock   workshop.Stock   `json:"stock"`
	Machine workshop.Machine `json:"machine"`
	// Others are other stocks of the family: one of them is named where this one is
	// too small.
	Others []workshop.Stock `json:"others,omitempty"`
	// Stencil says that openings are cut out and the sheet is kept.
	Stencil bool `json:"stencil,omitempty"`
	Copies  int  `json:"copies"`
	// Mirror is nil to follow the stock's rule, else what the caller wants.
	Mirror  *bool   `json:"mirror,omitempty"`
	OneTurn bool    `json:"one_turn,omitempty"` // all copies turned alike
	Nesting Nesting `json:"nesting,omitempty"`  // empty: in rows
	OnWall  bool    `json:"on_wall,omitempty"`  // it goes to a wall, and so on tape
	// Apart says that the pieces of a drawing may be laid each by itself.
	Apart bool `json:"apart,omitempty"`
	// OneBorder says that a weed border may run round all copies on a sheet or run.
	OneBorder bool `json:"one_border,omitempty"`
	// Again is what is cut once more, by piece, the whole last; empty: all of the
	// drawing, Copies times.
	Again []Again `json:"again,omitempty"`
	// Panels says whether a piece larger than the stock may be made of panels, and
	// Chart how each of them is weeded.
	Panels  Allowance       `json:"panels,omitempty"`
	Chart   weeding.Request `json:"chart,omitzero"`
	Replies ask.Replies     `json:"replies,omitempty"`
}

// Layout is where the copies lie. Coordinates of a load: x across the feed
// from the left edge of the stock, y along it from its loading edge, mm.
type Layout struct {
	Loads []Load `json:"loads"`
	// Maps are the weeding maps of what lies on loads that do not hold the piece: of
	// each of its panels, or of all that several drawings have on a load; see Load.Map.
	Maps      []*weeding.Map    `json:"maps,omitempty"`
	Panels    *Panels           `json:"panels,omitempty"` // whose maps these are; nil: it is made whole
	Usage     Usage             `json:"usage"`
	Mirrored  bool              `json:"mirrored"`
	Nested    *Nested           `json:"nested,omitempty"` // where nesting was asked for
	Savings   []Saving          `json:"savings,omitempty"`
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

// Load is one filling of the machine.
type Load struct {
	Number   int     `json:"number"` // from 1
	WidthMM  float64 `json:"width_mm"`
	LengthMM float64 `json:"length_mm"`        // of the sheet, or drawn off the roll
	Map      int     `json:"map,omitempty"`    // of Layout.Maps, that of what lies on it, from 1; 0: that of the piece
	MatID    string  `json:"mat_id,omitempty"` // the mat it lies on
	// Sheets are the sheets on the mat, where there are several; else the load is one.
	Sheets     []geometry.Box `json:"sheets,omitempty"`
	Placements []Placement    `json:"placements"`
	// Places say which copies of which drawings lie on a load that several share. All
	// of it is then placed at once, as one copy of the load's map.
	Places []MemberPlace `json:"places,omitempty"`
}

// MemberPlace is where a copy of one of several drawings lies on a load that they share.
type MemberPlace struct {
	Code      string          `json:"code"` // of the drawing, which is no person's name; empty: there is one
	Copy      int             `json:"copy"` // of that drawing, from 1, its spares after the others
	Spare     bool            `json:"spare,omitempty"`
	Sheet     int             `json:"sheet,omitempty"` // of Load.Sheets, from 1; 0: the load has one
	TurnDeg   float64         `json:"turn_deg"`
	Transform geometry.Affine `json:"transform"` // drawing to load
	Bounds    geometry.Box    `json:"bounds"`    // on the load, with its own weed border
	// Strokes and Regions are those of the load's map that are the copy's: the strokes
	// by their index, and the regions by their number.
	Strokes Range `json:"strokes"`
	Regions Range `json:"regions"`
}

// Range is the numbers from From up to and without To.
type Range struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// Has reports whether n is in the range.
func (r Range) Has(n int) bool { return n >= r.From && n < r.To }

// Outcome lists what the job found and what it has to ask.
func (l *Layout) Outcome() ([]finding.Finding, []ask.Question) { return l.Findings, l.Questions }

// Placement is one copy on a load.
type Placement struct {
	Copy      int             `json:"copy"` // from 1
	TurnDeg   float64         `json:"turn_deg"`
	Transform geometry.Affine `json:"transform"` // piece to load
	Bounds    geometry.Box    `json:"bounds"`
}

// Usage is what is taken from the stores. Waste is a share from 0 to 1 by three
// definitions, which Wastes has in words; the used box is the rectangle round all
// copies of a load, summed over the loads, and the stock taken is whole sheets, or
// the whole width of the roll over the length drawn.
type Usage struct {
	Sheets       int     `json:"sheets"`        // of sheet stock
	RollMM       float64 `json:"roll_mm"`       // of roll stock
	StockMM2     float64 `json:"stock_mm2"`     // area taken
	NestWaste    float64 `json:"nest_waste"`    // 1 − footprints ÷ used box
	ArtWaste     float64 `json:"art_waste"`     // 1 − kept film ÷ used box
	ProcessWaste float64 `json:"process_waste"` // 1 − kept film ÷ stock taken
	Wastes       []Waste `json:"wastes,omitempty"`
	// AreaBound is a number of sheets, or of mm of roll, that no layout of these
	// copies goes below; see bound.
	AreaBound  float64 `json:"area_bound"`
	TapeMM2    float64 `json:"tape_mm2"`
	TapeM      float64 `json:"tape_m"` // drawn off the tape's roll, with a grip at each end of a strip
	TapePieces int     `json:"tape_pieces,omitempty"`
	// TapeStrips is how many widths of tape the pieces are made of.
	TapeStrips int           `json:"tape_strips,omitempty"`
	TapeTack   workshop.Tack `json:"tape_tack,omitempty"`
	// Offcut is the largest rectangle that the shapes leave free of the last sheet or
	// of the length drawn, and OffcutFullWidth the longest piece of its whole width.
	Offcut          *geometry.Box `json:"offcut,omitempty"`
	OffcutFullWidth *geometry.Box `json:"offcut_full_width,omitempty"`
}
