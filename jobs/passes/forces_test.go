package passes_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// A cutter that is set in steps of force is set to the nearest one, and to one at
// least: the pass says how many, and its force is theirs.
func TestForceInSteps(t *testing.T) {
	for _, c := range []struct {
		force, step float64
		steps       int
		want        float64
	}{{100, 30, 3, 90}, {106, 30, 4, 120}, {4, 30, 1, 30}, {90, 30, 3, 90}, {100, 0, 0, 100}, {0, 30, 0, 0}} {
		j := jobOn(t, "film-removable-610", 1, square(artwork.KissCut, 0, 0, 40))
		j.req.Machine.ForceStepGF, j.req.Machine.MaxForceGF = c.step, 500
		j.req.Settings = []workshop.Setting{{ID: "x", Family: workshop.RemovableFilm, Operation: artwork.KissCut, ForceGF: c.force, SpeedMMS: 100}}
		pass := j.order(t).Loads[0].Passes[0]
		if pass.ForceSteps != c.steps || pass.Setting.ForceGF != c.want {
			t.Errorf("%v gf in steps of %v: %d steps, %v gf; want %d, %v", c.force, c.step, pass.ForceSteps, pass.Setting.ForceGF, c.steps, c.want)
		}
	}
}

// What a setting asks beyond the machine is told with both numbers; the speed is
// then that of the machine, and the force stays for a person to decide.
func TestSettingsBeyondTheMachine(t *testing.T) {
	for _, c := range []struct {
		force, speed, mostForce, mostSpeed float64
		want                               map[finding.Code][2]string
	}{
		{300, 100, 300, 100, nil},
		{301, 100, 300, 100, map[finding.Code][2]string{finding.ForceOverMachine: {"force_gf", "limit_gf"}}},
		{300, 101, 300, 100, map[finding.Code][2]string{finding.SpeedOverMachine: {"speed_mm_s", "limit_mm_s"}}},
		{301, 101, 0, 0, nil},
	} {
		j := jobOn(t, "film-removable-610", 1, square(artwork.KissCut, 0, 0, 40))
		j.req.Machine.MaxForceGF, j.req.Machine.MaxSpeedMMS = c.mostForce, c.mostSpeed
		j.req.Settings = []workshop.Setting{{ID: "x", Family: workshop.RemovableFilm, Operation: artwork.KissCut, ForceGF: c.force, SpeedMMS: c.speed}}
		p := j.order(t)
		if len(p.Findings) != len(c.want) {
			t.Errorf("%+v: findings %+v", c, p.Findings)
		}
		for _, f := range p.Findings {
			asked, most := map[finding.Code]float64{finding.ForceOverMachine: c.force, finding.SpeedOverMachine: c.speed}[f.Code], map[finding.Code]float64{finding.ForceOverMachine: c.mostForce, finding.SpeedOverMachine: c.mostSpeed}[f.Code]
			if names := c.want[f.Code]; f.Values[names[0]] != finding.Num(asked) || f.Values[names[1]] != finding.Num(most) {
				t.Errorf("%s tells %v", f.Code, f.Values)
			}
		}
		set := p.Loads[0].Passes[0].Setting
		if speed := c.speed; c.mostSpeed > 0 && set.SpeedMMS != math.Min(speed, c.mostSpeed) || set.ForceGF != c.force {
			t.Errorf("%+v: run at %v mm/s with %v gf", c, set.SpeedMMS, set.ForceGF)
		}
	}
}

// A curve that is too tight is told with its radius to the µm and where it is.
func TestTightCurvesAreMeasured(t *testing.T) {
	at := geometry.Pt(40, 40)
	j := jobOn(t, "card-160-a4", 1,
		artwork.Stroke{Path: geometry.Circle(at, 0.4321), Operation: artwork.ThroughCut}, artwork.Stroke{Path: geometry.Circle(geometry.Pt(80, 40), 0.45), Operation: artwork.ThroughCut})
	j.req.Machine.Blade.OffsetMM = 0.5
	all := j.order(t).Findings
	i := slices.IndexFunc(all, func(f finding.Finding) bool { return f.Code == finding.TightCurve })
	if i < 0 {
		t.Fatalf("findings %+v", all)
	}
	if f := all[i]; f.Count != 2 || f.Values.Num("least_mm") != 0.432 || len(f.Places) != 2 || f.Places[0].Box.Centre().Dist(at) > 0.44 || math.Abs(f.Places[0].Box.Width()-1) > 1e-9 {
		t.Errorf("%+v", f)
	}
}
