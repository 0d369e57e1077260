// Package workshop holds the data a workshop keeps and edits: stocks,
// machines, tested settings and conventions. Plans take a snapshot of it.
package workshop

// Family is a material family; operations, mirroring and defaults follow it.
type Family string

// The material families (common practice, no source).
const (
	Paper         Family = "paper"
	LightCard     Family = "light_card"
	HeavyCard     Family = "heavy_card"
	RemovableFilm Family = "removable_film"
	PermanentFilm Family = "permanent_film"
	CastFilm      Family = "cast_film"
	HeatFilm      Family = "heat_film"
	StencilFilm   Family = "stencil_film"
	StencilSheet  Family = "stencil_sheet"
	MagneticSheet Family = "magnetic_sheet"
	BlastingMask  Family = "blasting_mask"
)

// Form is how stock comes.
type Form string

// The forms of stock.
const (
	Sheet  Form = "sheet"
	Roll   Form = "roll"
	Offcut Form = "offcut"
)

// Hold is how stock is held while it is cut.
type Hold string

// The holds.
const (
	Mat     Hold = "mat"     // on a tack mat
	Rollers Hold = "rollers" // straight in the rollers
)

// Tack is how strongly a mat or a tape sticks.
type Tack string

// The tacks.
const (
	LowTack    Tack = "low"
	MediumTack Tack = "medium"
	HighTack   Tack = "high"
)

// Mirror says how artwork on a stock has to be turned over.
type Mirror string

// The mirror rules.
const (
	MirrorNever  Mirror = "never"
	MirrorAlways Mirror = "always" // heat film: the back is cut
)

// Stock is a sheet, roll or offcut of one material. x runs across the feed.
type Stock struct {
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Family    Family  `json:"family"`
	Form      Form    `json:"form"`
	Hold      Hold    `json:"hold"`
	MatTack   Tack    `json:"mat_tack,omitempty"`
	TapeTack  Tack    `json:"tape_tack,omitempty"` // transfer tape; empty: none is used
	Liner     bool    `json:"liner"`               // film on a liner
	Mirror    Mirror  `json:"mirror"`
	NamedSize string  `json:"named_size,omitempty"` // "A4", where it has one
	WidthMM   float64 `json:"width_mm"`
	LengthMM  float64 `json:"length_mm"` // of a sheet, or what is left on the roll
	// UsableWidthMM is the width between the lanes of the pinch rollers, or
	// of the sheet less its side margins.
	UsableWidthMM float64 `json:"usable_width_mm"`
	MarginMM      float64 `json:"margin_mm"` // a sheet's lead and tail edge
	// LeastMarginMM is how near to any edge of a sheet a piece may come that the
	// margins have no room for; 0: the margins hold for every piece.
	LeastMarginMM float64 `json:"least_margin_mm,omitempty"`
	LeadMM        float64 `json:"lead_mm"`                  // a roll's clear start
	TailMM        float64 `json:"tail_mm"`                  // a roll's clear end
	LongestRunMM  float64 `json:"longest_run_mm,omitempty"` // drawn off a roll at once; 0: any length
	GapMM         float64 `json:"gap_mm"`                   // between pieces
	// Holds are other ways to hold the stock, with the margins and the gap of each.
	Holds     []Held  `json:"holds,omitempty"`
	CaliperUM float64 `json:"caliper_um"`
	Wound     *Wound  `json:"wound,omitempty"` // a roll's winding; nil: not known
	// TapeWidthMM is the width of the transfer tape that the stock takes; 0: as
	// wide as the work.
	TapeWidthMM float64 `json:"tape_width_mm,omitempty"`
	Join        *Join   `json:"join,omitempty"`  // of panels; nil: JoinOf the family
	Press       *Press  `json:"press,omitempty"` // of heat film, by its data sheet; nil: not known
	GrammageGSM float64 `json:"grammage_gsm,omitempty"`
	// GrainDeg is the direction of the grain from the x axis; nil: none.
	GrainDeg *float64 `json:"grain_deg,omitempty"`
	Limits   Limits   `json:"limits"`
}

// grainFromGSM is the weight from which folds across the grain crack, in g/m²
// (common practice, no source).
const grainFromGSM = 200

// CutMirrored reports whether work on the stock is cut mirrored: as the caller
// wants, or where that is nil by the stock's rule.
func (s Stock) CutMirrored(wanted *bool) bool {
	if wanted != nil {
		return *wanted
	}
	return s.Mirror == MirrorAlways
}

// FoldsMindGrain reports whether folds crack across the grain of the stock: it has
// one, and is heavy, or of a weight that nobody entered.
func (s Stock) FoldsMindGrain() bool {
	return s.GrainDeg != nil && (s.GrammageGSM == 0 || s.GrammageGSM >= grainFromGSM)
}

// NamedSize is a sheet the workshop lists by name, in mm, short side first.
type NamedSize struct {
	Name    string  `json:"name"`
	ShortMM float64 `json:"short_mm"`
	LongMM  float64 `json:"long_mm"`
}
