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
	LeadMM        float64 `json:"lead_mm"`   // a roll's clear start
	TailMM        float64 `json:"tail_mm"`   // a roll's clear end
	GapMM         float64 `json:"gap_mm"`    // between pieces
	CaliperUM     float64 `json:"caliper_um"`
	GrammageGSM   float64 `json:"grammage_gsm,omitempty"`
	// GrainDeg is the direction of the grain from the x axis; nil: none.
	GrainDeg *float64 `json:"grain_deg,omitempty"`
	Limits   Limits   `json:"limits"`
}

// CutMirrored reports whether work on the stock is cut mirrored: as the caller
// wants, or where that is nil by the stock's rule.
func (s Stock) CutMirrored(wanted *bool) bool {
	if wanted != nil {
		return *wanted
	}
	return s.Mirror == MirrorAlways
}

// Limits are what a stock lets a beginner weed (common practice, no source;
// editable).
type Limits struct {
	StrokeEasyMM   float64 `json:"stroke_easy_mm"`   // kept stroke: easy from here
	StrokeCareMM   float64 `json:"stroke_care_mm"`   // with care from here
	StrokeExpertMM float64 `json:"stroke_expert_mm"` // experts only; below: refuse
	CounterMM      float64 `json:"counter_mm"`       // inscribed diameter
	CounterMM2     float64 `json:"counter_mm2"`      // area
	FragileMM2     float64 `json:"fragile_mm2"`      // kept piece below
	KeptAngleDeg   float64 `json:"kept_angle_deg"`   // kept corner lifts below
	NeckMM         float64 `json:"neck_mm"`          // removal neck tears below
	LetterEasyMM   float64 `json:"letter_easy_mm"`   // capitals: easy from here
	LetterCareMM   float64 `json:"letter_care_mm"`   // with care from here
	LetterExpertMM float64 `json:"letter_expert_mm"` // experts only; below: refuse
	BorderMM       float64 `json:"border_mm"`        // weed border outside the artwork
	BridgeMM       float64 `json:"bridge_mm"`        // least width of a stencil bridge
	HandMM         float64 `json:"hand_mm"`          // longest piece peeled at once
	ClearanceMM    float64 `json:"clearance_mm"`     // relief lines keep off kept film

	Stencil StencilLimits `json:"stencil,omitzero"`
}

// StencilLimits are what holds a stencil together (common practice, no source;
// editable).
type StencilLimits struct {
	TwoBelowMM    float64 `json:"two_below_mm"`    // an island hangs on two bridges below this length
	ThreeToMM     float64 `json:"three_to_mm"`     // on three up to this one
	EachMM        float64 `json:"each_mm"`         // and on one for each of these along its edge above it
	MarginMM      float64 `json:"margin_mm"`       // of sheet round the openings, where its edge is not drawn
	LeastMarginMM float64 `json:"least_margin_mm"` // what lies outside gets paint below
}

// OrDefault returns l, or what is common practice where nothing is set.
func (l StencilLimits) OrDefault() StencilLimits {
	if l == (StencilLimits{}) {
		return StencilLimits{TwoBelowMM: 15, ThreeToMM: 60, EachMM: 40, MarginMM: 25, LeastMarginMM: 10}
	}
	return l
}

// DefaultLimits are the limits of design practice for film and card.
func DefaultLimits() Limits {
	return Limits{
		StrokeEasyMM: 1.5, StrokeCareMM: 1.0, StrokeExpertMM: 0.7,
		CounterMM: 2, CounterMM2: 3, FragileMM2: 10, KeptAngleDeg: 25, NeckMM: 2,
		LetterEasyMM: 12, LetterCareMM: 8, LetterExpertMM: 6,
		BorderMM: 5, BridgeMM: 2, HandMM: 200, ClearanceMM: 0.5,
	}
}

// NamedSize is a sheet the workshop lists by name, in mm, short side first.
type NamedSize struct {
	Name    string  `json:"name"`
	ShortMM float64 `json:"short_mm"`
	LongMM  float64 `json:"long_mm"`
}
