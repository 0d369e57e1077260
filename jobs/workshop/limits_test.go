package workshop_test

import (
	"testing"

	"knifedesk/jobs/workshop"
)

// The least width of what stays, by family, and the least hole, by blade (common
// practice, no source). A family that is easier never asks for more.
func TestLimitsGoByFamilyAndBlade(t *testing.T) {
	for family, want := range map[workshop.Family]float64{
		workshop.CastFilm: 0.5, workshop.RemovableFilm: 0.7, workshop.PermanentFilm: 0.7, workshop.HeatFilm: 1,
		workshop.LightCard: 1.5, workshop.HeavyCard: 2, workshop.StencilSheet: 2,
	} {
		l := workshop.LimitsOf(family)
		if l.StrokeExpertMM != want || l.StrokeCareMM <= want || l.StrokeEasyMM <= l.StrokeCareMM {
			t.Errorf("%s: easy %g, care %g, expert %g; want %g for the last", family, l.StrokeEasyMM, l.StrokeCareMM, l.StrokeExpertMM, want)
		}
	}
	for name, set := range sets() {
		for _, s := range set().Stocks {
			if s.Limits != workshop.LimitsOf(s.Family) {
				t.Errorf("%s: %s has limits of another family", name, s.ID)
			}
		}
		for _, m := range set().Machines {
			if m.Blade.HoleMM != 3 || m.Blades[0].HoleMM != 5 {
				t.Errorf("%s: %s: holes of %g and %g mm, want 3 and 5", name, m.ID, m.Blade.HoleMM, m.Blades[0].HoleMM)
			}
		}
	}
}
