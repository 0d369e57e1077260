package workshop_test

import (
	"errors"
	"math"
	"testing"

	"knifedesk/jobs/workshop"
)

// Fields of a stock that cannot hold beside each other are refused by name; what a
// workshop starts from holds.
func TestCheckOfAStock(t *testing.T) {
	for name, set := range sets() {
		for _, s := range set().Stocks {
			if err := s.Check(); err != nil {
				t.Errorf("%s: %s: %v", name, s.ID, err)
			}
		}
		for _, m := range set().Machines {
			if err := m.Check(); err != nil {
				t.Errorf("%s: %s: %v", name, m.ID, err)
			}
		}
	}
	for _, c := range []struct {
		name, stock, field string
		change             func(*workshop.Stock)
	}{
		{"margins eat the sheet", "card-160-a4", "margin_mm", func(s *workshop.Stock) { s.MarginMM = 200 }},
		{"margins leave 9 mm", "card-160-a4", "margin_mm", func(s *workshop.Stock) { s.MarginMM = 144 }},
		{"usable past the width", "card-160-a4", "usable_width_mm", func(s *workshop.Stock) { s.UsableWidthMM = 211 }},
		{"nothing usable", "card-160-a4", "usable_width_mm", func(s *workshop.Stock) { s.UsableWidthMM = 9 }},
		{"least margin past the margin", "card-160-a4", "least_margin_mm", func(s *workshop.Stock) { s.LeastMarginMM = 6 }},
		{"a gap as large as the sheet", "card-160-a4", "gap_mm", func(s *workshop.Stock) { s.GapMM = 211 }},
		{"the same hold twice", "card-160-a4", "holds.0.hold", func(s *workshop.Stock) { s.Holds[0].Hold = workshop.Mat }},
		{"margins of another hold", "card-160-a4", "holds.0.margin_mm", func(s *workshop.Stock) { s.Holds[0].MarginMM = 150 }},
		{"a run shorter than its ends", "film-removable-610", "longest_run_mm", func(s *workshop.Stock) { s.LongestRunMM = 105 }},
		{"half a new roll", "film-removable-610", "wound.new_outer_mm", func(s *workshop.Stock) { s.Wound.NewMM = 25000 }},
		{"a new roll within its core", "film-removable-610", "wound.new_outer_mm", func(s *workshop.Stock) { s.Wound.NewMM, s.Wound.NewOuterMM = 25000, 70 }},
		{"thinner than the film, measured", "film-removable-610", "wound.new_outer_mm", func(s *workshop.Stock) { s.Wound.NewMM, s.Wound.NewOuterMM = 25000, 80 }},
		{"thinner than the film, entered", "film-removable-610", "wound.thickness_um", func(s *workshop.Stock) { s.Wound.ThicknessUM = 60 }},
		{"an overlap of a butt joint", "film-heat-500", "join.overlap_mm", func(s *workshop.Stock) { s.Join = &workshop.Join{Joint: workshop.Butt, OverlapMM: 3} }},
		{"an overlap as wide as a panel", "film-heat-500", "join.overlap_mm", func(s *workshop.Stock) { s.Join = &workshop.Join{Joint: workshop.Overlap, OverlapMM: 480} }},
	} {
		s, _ := workshop.Example().Stock(c.stock)
		c.change(&s)
		var bad *workshop.FieldError
		if err := s.Check(); !errors.As(err, &bad) || bad.Field != c.field || bad.Change == "" {
			t.Errorf("%s: %v, want %s", c.name, err, c.field)
		}
	}
	m := workshop.Example().Machines[0]
	m.TurnsLifted, m.Compensates = true, workshop.CompensatesOffset
	if err := m.Check(); err != nil {
		t.Errorf("a machine that turns the blade: %v", err)
	}
	m.Compensates = workshop.CompensatesNothing
	var bad *workshop.FieldError
	if err := m.Check(); !errors.As(err, &bad) || bad.Field != "turns_lifted" {
		t.Errorf("a blade that trails, and would be turned lifted: %v", err)
	}
	m.TurnsLifted = false
	m.Mats[1].ID = m.Mats[0].ID
	if err := m.Check(); err == nil {
		t.Error("two mats of one name")
	}
}

// Check values, row 52 (derived by hand): 100/76 mm, 0.18 mm. Of removable film a turn
// is 0.23 mm, film, adhesive and liner, and 14.4 m are left, where the caliper of the
// film alone would promise 47.4. A millimetre of diameter is π·D/2t, about 683 mm.
func TestRollLeft(t *testing.T) {
	if got := workshop.RollLeft(100, 76, 0.18); math.Abs(got-18430.7) > 0.05 {
		t.Errorf("RollLeft = %.2f, want 18430.7", got)
	}
	s, _ := workshop.Example().Stock("film-removable-610")
	left, ok := s.Wound.Left(100)
	if !ok || math.Abs(left.LengthMM-14424) > 1 || left.Learned || math.Abs(left.HighMM-left.LengthMM-686.4) > 1 || math.Abs(left.LengthMM-left.LowMM-679.5) > 1 {
		t.Errorf("left %+v", left)
	}
	// A new roll of 25 m that measures 114.44 mm was wound with turns of 0.23 mm.
	w := workshop.Wound{CoreMM: 76, NewMM: 25000, NewOuterMM: math.Sqrt(76*76 + 4*0.23*25000/math.Pi)}
	learned, ok := w.Left(100)
	if !ok || !learned.Learned || math.Abs(learned.WoundUM-230) > 1e-6 || math.Abs(learned.LengthMM-left.LengthMM) > 1e-3 {
		t.Errorf("learned %+v", learned)
	}
	if full, _ := w.Left(w.NewOuterMM); math.Abs(full.LengthMM-25000) > 1e-6 {
		t.Errorf("a new roll has %g mm", full.LengthMM)
	}
	if _, ok := (workshop.Wound{CoreMM: 76}).Left(100); ok {
		t.Error("a length without a thickness")
	}
	if _, ok := w.Left(75); ok {
		t.Error("a roll within its core")
	}
	if bare, ok := w.Left(76); !ok || bare.LengthMM != 0 || bare.LowMM != 0 {
		t.Errorf("a bare core: %+v", bare)
	}
}

// Joints go by the family and the stock may say otherwise (common practice, no
// source).
func TestJoints(t *testing.T) {
	for family, want := range map[workshop.Family]workshop.Join{
		workshop.RemovableFilm: {Joint: workshop.Overlap, OverlapMM: 10}, workshop.CastFilm: {Joint: workshop.Overlap, OverlapMM: 6},
		workshop.HeatFilm: {Joint: workshop.Butt}, workshop.HeavyCard: {Joint: workshop.Tab, OverlapMM: 10},
	} {
		if got := (workshop.Stock{Family: family}).Joined(); got != want {
			t.Errorf("%s: %+v, want %+v", family, got, want)
		}
	}
	frosted := workshop.Stock{Family: workshop.PermanentFilm, Join: &workshop.Join{Joint: workshop.Butt}}
	if frosted.Joined().Joint != workshop.Butt {
		t.Error("the stock's own joint is not taken")
	}
}

// Only what is scored is folded.
func TestCheckOfAConvention(t *testing.T) {
	for means, want := range map[workshop.Meaning]bool{workshop.MeansScore: true, workshop.MeansCut: false, workshop.MeansPerforate: false} {
		c := workshop.Convention{Rules: []workshop.Rule{{Means: workshop.MeansCut}, {Means: means, Fold: workshop.Valley}}}
		err := c.Check()
		if field := new(workshop.FieldError); (err == nil) != want || err != nil && (!errors.As(err, &field) || field.Field != "rules.1.fold") {
			t.Errorf("%s: %v", means, err)
		}
	}
	for name, set := range sets() {
		for _, c := range set().Conventions {
			if err := c.Check(); err != nil {
				t.Errorf("%s: %s: %v", name, c.ID, err)
			}
		}
	}
}
