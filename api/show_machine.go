package api

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

func showMachine(m workshop.Machine) Machine {
	return Machine{
		ID: m.ID, Name: m.Name, WidthMM: m.WidthMM, MaxForceGF: m.MaxForceGF, MaxSpeedMMS: m.MaxSpeedMMS,
		TravelMMS: m.TravelMMS, AccelMMS2: m.AccelMMS2, LiftS: m.LiftS, MaxCaliperUM: m.MaxCaliperUM,
		LoadS: m.LoadS, TestS: m.TestS, ToolChangeS: m.ToolChangeS, UnloadS: m.UnloadS,
		Compensates: MachineCompensates(m.Compensates), Axes: showAxes(m.Axes), Lengths: MachineLengths(m.Lengths), TurnsLifted: m.TurnsLifted, ForceStepGF: m.ForceStepGF, PlotterArcs: m.PlotterArcs,
		Blade: showBlade(m.Blade), Blades: each(m.Blades, showBlade), Mats: each(m.Mats, showMat),
	}
}

func readMachine(m Machine) (workshop.Machine, error) {
	return workshop.Machine{
		ID: m.ID, Name: m.Name, WidthMM: m.WidthMM, MaxForceGF: m.MaxForceGF, MaxSpeedMMS: m.MaxSpeedMMS,
		TravelMMS: m.TravelMMS, AccelMMS2: m.AccelMMS2, LiftS: m.LiftS, MaxCaliperUM: m.MaxCaliperUM,
		LoadS: m.LoadS, TestS: m.TestS, ToolChangeS: m.ToolChangeS, UnloadS: m.UnloadS,
		Compensates: workshop.Compensation(m.Compensates), Axes: readAxes(m.Axes), Lengths: workshop.Corrector(m.Lengths), TurnsLifted: m.TurnsLifted, ForceStepGF: m.ForceStepGF, PlotterArcs: m.PlotterArcs,
		Blade: readBlade(m.Blade), Blades: each(m.Blades, readBlade), Mats: each(m.Mats, readMat),
	}, nil
}

func showAxes(a workshop.Axes) *Axes {
	if a == (workshop.Axes{}) {
		return nil
	}
	return &Axes{Feed: AxesFeed(a.Feed), Origin: AxesOrigin(a.Origin)}
}

func readAxes(a *Axes) workshop.Axes {
	if a == nil {
		return workshop.Axes{}
	}
	return workshop.Axes{Feed: workshop.Direction(a.Feed), Origin: workshop.Corner(a.Origin)}
}

func showBlade(b workshop.Blade) Blade {
	return Blade{ID: b.ID, AngleDeg: b.AngleDeg, OffsetMM: b.OffsetMM, OvercutMM: b.OvercutMM, LifeM: b.LifeM, HoleMM: b.HoleMM}
}

func readBlade(b Blade) workshop.Blade {
	return workshop.Blade{ID: b.ID, AngleDeg: b.AngleDeg, OffsetMM: b.OffsetMM, OvercutMM: b.OvercutMM, LifeM: b.LifeM, HoleMM: b.HoleMM}
}

func showMat(m workshop.MatSize) Mat {
	return Mat{ID: m.ID, Tack: Tack(m.Tack), WidthMM: m.WidthMM, LengthMM: m.LengthMM, Loads: m.Loads}
}

func readMat(m Mat) workshop.MatSize {
	return workshop.MatSize{ID: m.ID, Tack: workshop.Tack(m.Tack), WidthMM: m.WidthMM, LengthMM: m.LengthMM, Loads: m.Loads}
}

func showSetting(s workshop.Setting) Setting {
	return Setting{
		ID: s.ID, Family: string(s.Family), StockID: s.StockID, MachineID: s.MachineID, Operation: Operation(s.Operation),
		ForceGF: s.ForceGF, SpeedMMS: s.SpeedMMS, Passes: s.Passes, ExposureMM: s.ExposureMM,
		DashMM: s.DashMM, TieMM: s.TieMM, LiftBelowDeg: s.LiftBelowDeg, BladeID: s.BladeID, TestedBy: s.TestedBy, TestedOn: s.TestedOn, Batch: s.Batch,
	}
}

func readSetting(s Setting) (workshop.Setting, error) {
	return workshop.Setting{
		ID: s.ID, Family: workshop.Family(s.Family), StockID: s.StockID, MachineID: s.MachineID, Operation: artwork.Operation(s.Operation),
		ForceGF: s.ForceGF, SpeedMMS: s.SpeedMMS, Passes: s.Passes, ExposureMM: s.ExposureMM,
		DashMM: s.DashMM, TieMM: s.TieMM, LiftBelowDeg: s.LiftBelowDeg, BladeID: s.BladeID, TestedBy: s.TestedBy, TestedOn: s.TestedOn, Batch: s.Batch,
	}, nil
}
