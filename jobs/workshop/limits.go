package workshop

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

// DefaultLimits are the limits of design practice for calendered film.
func DefaultLimits() Limits {
	return Limits{
		StrokeEasyMM: 1.5, StrokeCareMM: 1.0, StrokeExpertMM: 0.7,
		CounterMM: 2, CounterMM2: 3, FragileMM2: 10, KeptAngleDeg: 25, NeckMM: 2,
		LetterEasyMM: 12, LetterCareMM: 8, LetterExpertMM: 6,
		BorderMM: 5, BridgeMM: 2, HandMM: 200, ClearanceMM: 0.5,
	}
}

// LimitsOf are the limits that a stock of a family starts with: how wide what
// stays has to be goes by the material, and bridges may be narrower in film
// (common practice, no source).
func LimitsOf(f Family) Limits {
	l := DefaultLimits()
	switch f {
	case CastFilm:
		l.StrokeEasyMM, l.StrokeCareMM, l.StrokeExpertMM = 1.2, 0.8, 0.5
	case HeatFilm, BlastingMask:
		l.StrokeEasyMM, l.StrokeCareMM, l.StrokeExpertMM = 2, 1.4, 1
	case Paper, LightCard:
		l.StrokeEasyMM, l.StrokeCareMM, l.StrokeExpertMM = 3, 2, 1.5
	case HeavyCard, StencilSheet, MagneticSheet:
		l.StrokeEasyMM, l.StrokeCareMM, l.StrokeExpertMM = 4, 3, 2
	}
	switch f {
	case StencilSheet:
		l.BridgeMM = 3 // plastic
	case Paper, LightCard, HeavyCard, MagneticSheet:
	default:
		l.BridgeMM = 1.5
	}
	return l
}

// Material is what a stock of the family is called in a sentence.
func (f Family) Material() string {
	switch f {
	case Paper:
		return "paper"
	case LightCard, HeavyCard:
		return "card"
	case StencilSheet:
		return "plastic sheet"
	case MagneticSheet:
		return "magnetic sheet"
	case BlastingMask:
		return "mask"
	case HeatFilm:
		return "heat film"
	}
	return "film"
}
