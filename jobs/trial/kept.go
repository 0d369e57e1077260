package trial

import (
	"math"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// Subject is what a test cut holds for: another material, caliper, machine, kind of
// blade or number of passes is another subject.
type Subject struct {
	StockID   string            `json:"stock_id"`
	CaliperUM float64           `json:"caliper_um,omitempty"`
	MachineID string            `json:"machine_id"`
	Operation artwork.Operation `json:"operation"`
	BladeID   string            `json:"blade_id,omitempty"` // its kind
	Passes    int               `json:"passes"`
}

// Kept is a test cut as it is kept.
type Kept struct {
	Subject
	Record
	Hold   workshop.Hold `json:"hold,omitempty"`
	Marks  *Marks        `json:"marks,omitempty"` // nil: not measured
	Tester string        `json:"tester,omitempty"`
	Proof  string        `json:"proof,omitempty"` // where the cut sheet is kept
}

// Marks are the lengths of the two marks as they were measured, in mm.
type Marks struct {
	AcrossMM float64 `json:"across_mm"` // the feed
	AlongMM  float64 `json:"along_mm"`
}

// MarkMM is how long the marks are as the machine counts.
const MarkMM = 100

// MostOff is the share of a length by which it may be off without a word (common
// practice, no source).
const MostOff = 0.002

// Off reports whether the marks are so far from their length that it has to be said:
// over MostOff.
func (m *Marks) Off() bool {
	const most = MostOff*MarkMM + 1e-9
	return math.Abs(m.AcrossMM-MarkMM) > most || math.Abs(m.AlongMM-MarkMM) > most
}

// MarksOf returns the marks that were measured last on stock that is held so; nil:
// none.
func MarksOf(all []Kept, hold workshop.Hold) *Marks {
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Marks != nil && all[i].Hold == hold {
			return all[i].Marks
		}
	}
	return nil
}

// Records returns the test cuts of a subject in their order. Where a setting was
// entered as tested, and none of them was made at its force and speed, that counts as
// one good test cut before them. set is the setting as it is run.
func (s Subject) Records(all []Kept, set workshop.Setting) []Record {
	var own []Record
	known := false
	for _, k := range all {
		if k.Subject == s && k.Aim != Lengths {
			own = append(own, k.Record)
			_, cut := k.verdict(set.ForceGF, set.SpeedMMS)
			known = known || cut
		}
	}
	if set.TestedBy == "" || known {
		return own
	}
	said := Record{Aim: Again, Day: set.TestedOn, Batch: set.Batch, Cells: []Cell{{ForceGF: set.ForceGF, SpeedMMS: set.SpeedMMS, Verdict: Passed}}}
	return append([]Record{said}, own...)
}
