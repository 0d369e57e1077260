package size_test

import (
	"slices"
	"testing"

	"knifedesk/jobs/size/internal/spoil"
	"knifedesk/jobs/workshop"
)

// holds reports whether a machine can cut a stock: its width, its mats where
// the stock lies on one, its depth, and the force of a setting for the stock.
func holds(m workshop.Machine, s workshop.Stock, settings []workshop.Setting) bool {
	carried := s.Hold != workshop.Mat || slices.ContainsFunc(m.Mats, func(mat workshop.MatSize) bool {
		return mat.WidthMM >= s.UsableWidthMM && mat.LengthMM >= s.LengthMM-s.MarginMM
	})
	forced := slices.ContainsFunc(settings, func(one workshop.Setting) bool {
		return one.Family == s.Family && (one.StockID == "" || one.StockID == s.ID) && (one.MachineID == "" || one.MachineID == m.ID) &&
			one.Operation.Cuts() && one.ForceGF <= m.MaxForceGF
	})
	return m.WidthMM >= s.UsableWidthMM && s.CaliperUM <= m.MaxCaliperUM && carried && forced
}

// A machine that is left out is one that can hold the stock, where there is
// one. Source: item on the machine left out; width, mat, depth and force are
// what a plan is blocked for or narrowed by.
func TestMachineLeftOut(t *testing.T) {
	left, able, faults := 0, 0, 0
	for n := range *spoiledCount {
		c := spoil.Make(*spoiledSeed, n)
		if c.Choices.Machine != "" || c.Choices.Size.Frame != "" {
			continue
		}
		stock := c.Data.Stocks[0]
		req, err := spoiledList.Choose(c.Data, c.Choices)
		if err != nil {
			t.Fatalf("%d: %v", n, err)
		}
		left++
		can := slices.IndexFunc(c.Data.Machines, func(m workshop.Machine) bool { return holds(m, stock, c.Data.Settings) })
		if can < 0 {
			continue
		}
		if able++; holds(req.Machine, stock, c.Data.Settings) {
			continue
		}
		if faults++; faults <= 3 {
			t.Errorf("%d: %s %g × %g on %s: machine %+v is chosen, and %+v could", n, stock.Form, stock.WidthMM, stock.LengthMM, stock.Hold, req.Machine, c.Data.Machines[can])
		}
	}
	t.Logf("machine left out %d times, %d times with one that can hold the stock, wrongly chosen %d times", left, able, faults)
	if able == 0 {
		t.Error("no workshop has a machine that can hold its stock")
	}
}
