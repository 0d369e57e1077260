package workshop

// The blades to start with, by the ID that settings name.
const (
	fineBlade  = "fine-45"  // film, paper, light card
	heavyBlade = "heavy-60" // heavy card and plastic sheet
)

// startMachines returns the narrow and the wide cutter. They share the two
// mats and keep one blade of each kind. The least holes are common practice
// without a source.
func startMachines() []Machine {
	narrow := Machine{
		ID: "narrow-305", Name: "Narrow cutter, 305 mm",
		WidthMM: 305, MaxForceGF: 210, MaxSpeedMMS: 250, TravelMMS: 200, AccelMMS2: 1000,
		LiftS: 0.1, MaxCaliperUM: 500, LoadS: 180, TestS: 120, ToolChangeS: 60, UnloadS: 60,
	}
	wide := narrow
	wide.ID, wide.Name = "wide-610", "Wide cutter, 610 mm"
	wide.WidthMM, wide.MaxForceGF, wide.MaxSpeedMMS, wide.MaxCaliperUM = 610, 400, 400, 800
	machines := []Machine{narrow, wide}
	for i := range machines {
		machines[i].Blade = Blade{ID: fineBlade, AngleDeg: 45, OffsetMM: 0.25, OvercutMM: 0.3, LifeM: 400, HoleMM: 3}
		machines[i].Blades = []Blade{{ID: heavyBlade, AngleDeg: 60, OffsetMM: 0.5, OvercutMM: 0.6, LifeM: 250, HoleMM: 5}}
		machines[i].Mats = []MatSize{
			{ID: "mat-light", Tack: LowTack, WidthMM: 300, LengthMM: 430},
			{ID: "mat-medium", Tack: MediumTack, WidthMM: 300, LengthMM: 430},
		}
	}
	return machines
}
