package workshop

import "math"

// Wound is how a roll is wound. What counts is the thickness of all that goes
// round with each turn, film, adhesive and liner: two to four times the caliper of
// the film alone. A new roll of known length, measured once, tells it best.
type Wound struct {
	ThicknessUM float64 `json:"thickness_um,omitempty"` // 0: not known, or learned
	CoreMM      float64 `json:"core_mm"`                // outer diameter of the core
	// NewMM and NewOuterMM are the length of a new roll and its diameter as it was
	// measured; both 0: none was.
	NewMM      float64 `json:"new_mm,omitempty"`
	NewOuterMM float64 `json:"new_outer_mm,omitempty"`
}

// Thickness returns the thickness of one turn in µm, and whether it was learned from
// a new roll; 0 where nobody entered it and none was measured.
func (w Wound) Thickness() (um float64, learned bool) {
	if w.NewMM > 0 && w.NewOuterMM > w.CoreMM {
		return 1000 * ring(w.NewOuterMM, w.CoreMM) / w.NewMM, true
	}
	return w.ThicknessUM, false
}

// Left is what is left on a roll, in mm. LowMM and HighMM are what it would be were
// the outer diameter a millimetre less or more: a tape measure reads no finer.
type Left struct {
	LengthMM float64
	LowMM    float64
	HighMM   float64
	WoundUM  float64 // of one turn
	Learned  bool    // from a new roll, and not entered
}

// Left returns what is left on a roll of an outer diameter in mm, and whether
// that can be told: the thickness has to be known and the roll to reach past its
// core. The film's own caliper never stands in for the thickness.
func (w Wound) Left(outerMM float64) (Left, bool) {
	um, learned := w.Thickness()
	if !(um > 0) || !(outerMM >= w.CoreMM) {
		return Left{}, false
	}
	of := func(outer float64) float64 { return RollLeft(math.Max(outer, w.CoreMM), w.CoreMM, um/1000) }
	return Left{of(outerMM), of(outerMM - 1), of(outerMM + 1), um, learned}, true
}

// RollLeft returns the length on a roll, in mm, from its outer and core diameters
// and the thickness of one turn: the area of the ring over the thickness,
// π(D²−d²)/4t.
func RollLeft(outerMM, coreMM, thicknessMM float64) float64 {
	return ring(outerMM, coreMM) / thicknessMM
}

// ring is the area between two circles of these diameters, in mm².
func ring(outerMM, innerMM float64) float64 {
	return math.Pi * (outerMM*outerMM - innerMM*innerMM) / 4
}
