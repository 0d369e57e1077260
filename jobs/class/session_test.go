package class_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/jobs/class"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/session"
)

// The session is planned of the loads that are not done, by their high minutes, with as many
// mats as the load has that has most. By hand, of three loads that take 2 to prepare, 10 to
// cut, 1 to unload and 5 to peel: one after the other 3 · 13 + 5; with two mats the next is
// prepared while one is cut, 2 + 10 + 2 · (0.5 + 10) + 1 + 5, where the third waits for a
// mat until 13.5 and is ready at 15.5, so begins at 23.
func TestFitPlansWhatIsNotDone(t *testing.T) {
	for mats, last := range map[int]float64{1: 44, 2: 39} {
		s := class.Set{Session: &class.Session{Minutes: 100, Places: 3, Briefing: 20, Clearing: 5}, Loads: numbered(4)}
		for i := range s.Loads {
			high := func(minutes float64) estimate.Range {
				return estimate.Range{Low: minutes / 4, Likely: minutes / 2, High: minutes}
			}
			s.Loads[i].Mats = 1
			s.Loads[i].Time = estimate.LoadTime{Number: 1, Prepare: high(2), Cut: high(10), Unload: high(1), Bench: high(5)}
		}
		s.Loads[2].Mats = mats
		s.Loads[0].Done = &day
		if err := s.Fit(t.Context()); err != nil {
			t.Fatal(err)
		}
		var codes []string
		for _, r := range s.Plan.Runs {
			codes = append(codes, r.Code)
		}
		if s.Plan.Usable != 75 || s.Plan.LastPeel != last || cmp.Diff([]string{"2", "3", "4"}, codes) != "" {
			t.Errorf("%d mats: %+v", mats, s.Plan)
		}
	}
	var none class.Set
	if err := none.Fit(t.Context()); err != nil || none.Plan != nil {
		t.Errorf("nothing is said of the time: %v, %v", none.Plan, err)
	}
	none.Session = &class.Session{Minutes: 60}
	if err := none.Fit(t.Context()); !errors.As(err, new(*session.RequestError)) {
		t.Errorf("without a place at the bench: %v", err)
	}
}

// A tenth is fetched besides, up to whole sheets, one at least, and of a roll whole mm.
func TestSpares(t *testing.T) {
	for _, c := range []struct {
		spares class.Spares
		sheets int
		rollMM float64
		want   int
		wantMM float64
	}{
		{class.DefaultSpares(), 1, 0, 1, 0}, {class.DefaultSpares(), 10, 0, 1, 0}, {class.DefaultSpares(), 11, 0, 2, 0}, {class.DefaultSpares(), 30, 0, 3, 0},
		{class.DefaultSpares(), 0, 450, 0, 45}, {class.DefaultSpares(), 0, 451, 0, 46}, {class.DefaultSpares(), 0, 0, 0, 0},
		{class.Spares{}, 20, 0, 0, 0}, {class.Spares{LeastSheets: 3}, 20, 0, 3, 0}, {class.Spares{Percent: 50}, 5, 0, 3, 0},
	} {
		if n, mm := c.spares.Of(c.sheets, c.rollMM); n != c.want || mm != c.wantMM {
			t.Errorf("%+v of %d sheets and %g mm: %d and %g, want %d and %g", c.spares, c.sheets, c.rollMM, n, mm, c.want, c.wantMM)
		}
	}
}
