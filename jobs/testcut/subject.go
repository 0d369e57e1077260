package testcut

import (
	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Bench is a setting on a stock and a machine, as it is run, with what was cut to test
// it.
type Bench struct {
	passes.Request
	Setting workshop.Setting // as it is run
	Records []trial.Record   // oldest first
	Blade   workshop.Blade   // in the holder; the zero Blade for a pen or a blunt tip
}

// BenchOf returns a setting with those of the test cuts that are about it.
func BenchOf(set workshop.Setting, req passes.Request, all []trial.Kept) Bench {
	b := Bench{Request: req, Setting: passes.AsRun(set, req.Machine)}
	b.Blade, _ = passes.BladeOf(b.Setting, req)
	b.Records = b.Subject().Records(all, b.Setting)
	return b
}

// Subject is what test cuts of it hold for.
func (b *Bench) Subject() trial.Subject {
	return trial.Subject{
		StockID: b.Stock.ID, CaliperUM: b.Stock.CaliperUM, MachineID: b.Machine.ID,
		Operation: b.Setting.Operation, BladeID: b.Blade.ID, Passes: b.Setting.Passes,
	}
}

// Standing is how it stands on a day for material of a batch, which may be unknown.
func (b *Bench) Standing(batch, day string) trial.Standing {
	return trial.StandingOf(trial.Use{
		ForceGF: b.Setting.ForceGF, SpeedMMS: b.Setting.SpeedMMS, Batch: batch, Blade: b.Blade.Fitted, Day: day,
	}, b.Records)
}

// Next is what its test cuts say and the sheet to cut now.
func (b *Bench) Next() trial.Next {
	return trial.After(b.Setting.ForceGF, b.Setting.SpeedMMS, trial.Limits{
		MostGF: passes.MostForce(b.Setting, b.Request), StepGF: b.Machine.ForceStepGF,
		MostMMS: hpgl.Speed(b.Machine.MaxSpeedMMS), StepMMS: speedStep,
	}, b.Records)
}

// speedStep is the step in which files say speeds, in mm/s.
const speedStep = 10

// Standings returns how the settings stand that may run work on the stock, by ID, for
// material of a batch, which may be unknown.
func Standings(req passes.Request, all []trial.Kept, batch, day string) map[string]trial.Standing {
	out := map[string]trial.Standing{}
	for _, set := range req.Settings {
		if passes.MayApply(set, req.Stock, req.Machine) && set.SpeedMMS > 0 {
			b := BenchOf(set, req, all)
			out[set.ID] = b.Standing(batch, day)
		}
	}
	return out
}
