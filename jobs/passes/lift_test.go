package passes_test

import (
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// Corners below the setting's angle are turned lifted by a machine that can, and by no
// drag knife: lifting one would not turn it. What is lifted takes time.
func TestWhoTurnsALiftedBlade(t *testing.T) {
	wedge := stroke(t, artwork.ThroughCut, "M10 10H40L10 25Z") // 26.6°, 63.4° and 90°
	for _, tt := range []struct {
		name   string
		turns  bool
		by     workshop.Compensation
		offset float64
		below  float64
		want   int
	}{
		{"nobody said that it can", false, workshop.CompensatesOffset, 0.5, 60, 0},
		{"the machine", true, workshop.CompensatesOffset, 0.5, 60, 2}, // once in each of two rounds
		{"and sharper corners alone", true, workshop.CompensatesAll, 0.5, 20, 0},
		{"a blade that does not trail", true, workshop.CompensatesNothing, 0, 60, 2},
		{"a blade that trails", true, workshop.CompensatesNothing, 0.5, 60, 0},
		{"a material that does not tear", true, workshop.CompensatesOffset, 0.5, 0, 0},
	} {
		j := jobOn(t, "card-220-a4", 1, wedge)
		j.req.Machine.TurnsLifted, j.req.Machine.Compensates = tt.turns, tt.by
		j.req.Machine.Blade.OffsetMM = tt.offset
		for i := range j.req.Machine.Blades {
			j.req.Machine.Blades[i].OffsetMM = tt.offset
		}
		for i := range j.req.Settings {
			j.req.Settings[i].LiftBelowDeg = tt.below
		}
		p := j.order(t)
		pass := p.Loads[0].Passes[0]
		if pass.Turns != tt.want || pass.Lifts < 1+tt.want {
			t.Errorf("%s: turned lifted %d times, want %d, in %d lifts", tt.name, pass.Turns, tt.want, pass.Lifts)
		}
		if wantLead := tt.by == workshop.CompensatesNothing && tt.offset > 0; (pass.LeadIn != nil) != wantLead {
			t.Errorf("%s: lead-in %v", tt.name, pass.LeadIn)
		}
		if rest := pass.MotionS - pass.CutS - pass.TravelS - float64(pass.Lifts)*j.req.Machine.LiftS; rest*rest > 1e-18 {
			t.Errorf("%s: the lifts are not in the time, by %g s", tt.name, rest)
		}
	}
}
