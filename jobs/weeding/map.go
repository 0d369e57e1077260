// Package weeding maps what stays and what goes when film or card is weeded, adds
// the lines that make it peel, and says in which order.
package weeding

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Purpose is what the piece is for.
type Purpose string

// The purposes.
const (
	Pieces    Purpose = "pieces"    // parts are kept
	Lettering Purpose = "lettering" // film shapes kept on the liner
	Stencil   Purpose = "stencil"   // openings removed, the sheet kept
)

// Request is what the job needs besides the artwork.
type Request struct {
	Purpose  Purpose        `json:"purpose"`
	Stock    workshop.Stock `json:"stock"`
	Border   bool           `json:"border"`             // add a weed border
	Relief   bool           `json:"relief"`             // add relief lines
	Bridges  bool           `json:"bridges"`            // bridge stencil islands
	Weld     bool           `json:"weld"`               // union overlapping shapes
	Mirrored bool           `json:"mirrored,omitempty"` // it is cut mirrored
	Novice   bool           `json:"novice"`             // bench times doubled
	Turned   []int          `json:"turned,omitempty"`   // regions turned over by number
	ChordMM  float64        `json:"chord_mm,omitempty"` // 0: geometry.DefaultChord
	MendsOff []string       `json:"mends_off,omitempty"`
	Replies  ask.Replies    `json:"replies,omitempty"`
	Room     *Room          `json:"room,omitempty"`  // nil: as large as is wanted
	Times    *Times         `json:"times,omitempty"` // nil: DefaultTimes
}

// Room is how large a stencil's sheet may be, in mm.
type Room struct {
	WidthMM  float64 `json:"width_mm"`  // across the feed
	LengthMM float64 `json:"length_mm"` // along it; 0: endless
	// EdgeMM is what the stock has round that room, where the machine cannot
	// cut. It is part of the sheet where the sheet fills the room.
	EdgeMM float64 `json:"edge_mm"`
}

// Class is what a removed region is.
type Class string

// The classes. Kept regions have the class Kept.
const (
	Kept     Class = "kept"
	Surround Class = "surround" // depth 0, inside the weed border
	Ground   Class = "ground"   // removed, holding kept pieces
	Counter  Class = "counter"  // removed, empty
)

// Map is the weeding map of one piece, in the artwork's coordinates (mm).
type Map struct {
	Purpose Purpose `json:"purpose"`
	Panel   string  `json:"panel,omitempty"` // its code, where the map is that of a panel
	// Copies is how many copies lie on the load whose map it is; 0: it is that of one.
	Copies int `json:"copies,omitempty"`
	// Mirrored says that the work is cut mirrored; see AsItLies.
	Mirrored bool         `json:"mirrored,omitempty"`
	Regions  []Region     `json:"regions"` // by Number; Steps order the removed ones
	Bounds   geometry.Box `json:"bounds"`  // artwork with its weed border
	// Strokes are all lines the machine runs, the artwork's (welded and
	// bridged where that was decided) with the added ones after them.
	Strokes []artwork.Stroke `json:"strokes"`
	// Bridges are the strips that a stencil's islands hang on, closed, between
	// the strokes that stop short of them.
	Bridges []geometry.Path `json:"bridges,omitempty"`
	Steps   []Step          `json:"steps"`
	Effort  Effort          `json:"effort"`
	// Risk says what is cut although it is below the limits of the stock, and
	// why; empty: nothing is.
	Risk      string            `json:"risk,omitempty"`
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

// Region is one connected cell of the cut lines. Where relief lines run into
// it, Outer goes along both of their sides, so that a region without Holes can
// be lifted off.
type Region struct {
	Number int `json:"number"` // from 1
	// Of is the number of the region that this one was split off by relief
	// lines, 0 for none. Only regions with Of 0 can be turned over.
	Of           int             `json:"of,omitempty"`
	Class        Class           `json:"class"`
	Depth        int             `json:"depth"` // nest depth, 0 outside the artwork
	Outer        geometry.Path   `json:"outer"` // flattened, anticlockwise
	Holes        []geometry.Path `json:"holes,omitempty"`
	AreaMM2      float64         `json:"area_mm2"`
	PerimeterMM  float64         `json:"perimeter_mm"`
	Pick         geometry.Point  `json:"pick"`           // pole of inaccessibility
	PickRadiusMM float64         `json:"pick_radius_mm"` // its distance to the boundary
	// LeastWidthMM is the smallest local width, at LeastWidthAt; 0 where the
	// region is convex enough to have none.
	LeastWidthMM float64         `json:"least_width_mm,omitempty"`
	LeastWidthAt *geometry.Point `json:"least_width_at,omitempty"`
	Fragile      bool            `json:"fragile,omitempty"`
	Touches      []int           `json:"touches,omitempty"` // numbers of adjoining regions
}

// Kept reports whether the region stays.
func (r *Region) Kept() bool { return r.Class == Kept }

// Step is one thing to peel, in order.
type Step struct {
	Order  int            `json:"order"` // from 1
	Region int            `json:"region"`
	Pick   geometry.Point `json:"pick"`
	// PeelDeg is the direction in which to pull, from the x axis.
	PeelDeg float64 `json:"peel_deg"`
	Seconds float64 `json:"seconds"`
	Hint    string  `json:"hint,omitempty"`
}

// Effort holds the inputs of the bench time of one copy (design: weeding).
type Effort struct {
	KeptContourM  float64 `json:"kept_contour_m"`
	Grounds       int     `json:"grounds"` // the surround counts as one
	Counters      int     `json:"counters"`
	Fragile       int     `json:"fragile"`
	LeastHeightMM float64 `json:"least_height_mm"` // of a letter, kept or cut out of a plate; 0: no lettering
	Difficulty    float64 `json:"difficulty"`      // D
	CopyS         float64 `json:"copy_s"`          // one copy, without the start-up of a load
	StartS        float64 `json:"start_s"`         // t0, once a load
	// Of are the efforts that it is the sum of; empty: it is that of one piece.
	Of []Effort `json:"of,omitempty"`
}
