package jobs_test

import (
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// Where no machine is named, the narrowest that can hold the stock is taken: by
// its width, its mats, the thickness and the force of the settings.
func TestMachineLeftOut(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(w *workshop.Data)
		want   string
	}{
		"both can": {func(*workshop.Data) {}, "narrow-305"},
		"width":    {func(w *workshop.Data) { w.Machines[0].WidthMM = 150 }, "wide-610"},
		"mat":      {func(w *workshop.Data) { w.Machines[0].Mats = nil }, "wide-610"},
		"caliper":  {func(w *workshop.Data) { w.Machines[0].MaxCaliperUM = 100 }, "wide-610"},
		"force":    {func(w *workshop.Data) { w.Machines[0].MaxForceGF = 50 }, "wide-610"},
		"none":     {func(w *workshop.Data) { w.Machines[0].WidthMM, w.Machines[1].WidthMM = 150, 160 }, "wide-610"},
	} {
		w := workshop.Example()
		tt.change(&w)
		req, err := jobs.NewList().Choose(w, plan.Choices{Stock: "card-220-a4"})
		if err != nil {
			t.Fatal(err)
		}
		if req.Machine.ID != tt.want {
			t.Errorf("%s: %s, want %s", name, req.Machine.ID, tt.want)
		}
	}
}
