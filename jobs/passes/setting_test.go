package passes_test

import (
	"math"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// What a machine makes of a setting, by hand: speeds in whole cm/s and never above what was
// tested, below 1 cm/s as entered; forces in its steps, one at least; as many passes as were
// entered, and one where nobody entered any.
func TestSettingsAsRun(t *testing.T) {
	machine := workshop.Machine{MaxSpeedMMS: 400, ForceStepGF: 10}
	for _, c := range []struct{ set, want workshop.Setting }{
		{workshop.Setting{SpeedMMS: 100, ForceGF: 120, Passes: 1}, workshop.Setting{SpeedMMS: 100, ForceGF: 120, Passes: 1}},
		{workshop.Setting{SpeedMMS: 109.9, ForceGF: 124, Passes: 2}, workshop.Setting{SpeedMMS: 100, ForceGF: 120, Passes: 2}},
		{workshop.Setting{SpeedMMS: 500, ForceGF: 126}, workshop.Setting{SpeedMMS: 400, ForceGF: 130, Passes: 1}},
		{workshop.Setting{SpeedMMS: 5, ForceGF: 3, Passes: 3}, workshop.Setting{SpeedMMS: 5, ForceGF: 10, Passes: 3}},
		{workshop.Setting{SpeedMMS: 30}, workshop.Setting{SpeedMMS: 30, Passes: 1}},
	} {
		if got := passes.AsRun(c.set, machine); got != c.want {
			t.Errorf("%+v is run as %+v, want %+v", c.set, got, c.want)
		}
	}
	free := workshop.Setting{SpeedMMS: 1300, ForceGF: 123, Passes: 1}
	if got := passes.AsRun(free, workshop.Machine{}); got.SpeedMMS != 1270 || got.ForceGF != 123 {
		t.Errorf("a machine without limits runs %+v as %+v", free, got)
	}
}

// A setting of a speed counts as one however slow it is, and as none without a speed. A
// stroke that is gone over twice takes twice the cut, and the file has it twice.
func TestSettingsOfASpeed(t *testing.T) {
	cutMM := map[int]float64{}
	for _, c := range []struct {
		speed   float64
		passes  int
		missing bool
	}{{0.5, 1, false}, {1, 1, false}, {100, 1, false}, {100, 2, false}, {0, 1, true}} {
		j := jobOn(t, "card-160-a4", 1, square(artwork.ThroughCut, 0, 0, 40))
		j.req.Settings = nil
		for _, s := range workshop.Example().Settings {
			s.SpeedMMS, s.Passes = c.speed, c.passes
			j.req.Settings = append(j.req.Settings, s)
		}
		p := j.order(t)
		missing := false
		for _, f := range p.Findings {
			missing = missing || f.Code == finding.SettingMissing
		}
		if missing != c.missing {
			t.Errorf("%g mm/s: missing %v, %v", c.speed, missing, codes(t, p))
		}
		if c.speed == 100 {
			cutMM[c.passes] = p.Loads[0].Passes[0].CutMM
		}
	}
	if math.Abs(cutMM[2]/cutMM[1]-2) > 0.1 {
		t.Errorf("cut %g mm in one pass, %g in two", cutMM[1], cutMM[2])
	}
}
