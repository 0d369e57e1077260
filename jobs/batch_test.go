package jobs_test

import (
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Three good test cuts of one batch make a setting trusted, for that batch and where
// none is named; of another one cell has to be cut again.
func TestSettingsStandByTheBatch(t *testing.T) {
	w := workshop.Example()
	for batch, want := range map[string]trial.State{"": trial.Trusted, "A": trial.Trusted, "B": trial.Tested} {
		r, err := jobs.NewList().Choose(w, plan.Choices{Stock: "film-removable-610", Batch: batch})
		if err != nil || r.Batch != batch {
			t.Fatalf("batch %q: %v", r.Batch, err)
		}
		set := r.Settings[0]
		for _, s := range r.Settings {
			if s.Family == workshop.RemovableFilm {
				set = s
			}
		}
		b := testcut.BenchOf(set, passes.Request{Stock: r.Stock, Machine: r.Machine, Settings: r.Settings}, nil)
		good := trial.Kept{Subject: b.Subject(), Record: trial.Record{
			Aim: trial.Force, Day: "2030-01-02", Batch: "A", Cells: []trial.Cell{{ForceGF: b.Setting.ForceGF, SpeedMMS: b.Setting.SpeedMMS, Verdict: trial.Passed}},
		}}
		jobs.Stand(r, []trial.Kept{good, good, good}, "2030-01-10")
		if got := r.Standings[set.ID]; got.State != want || (want == trial.Tested) != (got.Lowered == trial.OtherBatch) {
			t.Errorf("batch %q: %+v, want %s", batch, got, want)
		}
	}
}
