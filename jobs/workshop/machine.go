package workshop

import "knifedesk/jobs/artwork"

// Machine is one cutter. Speeds and accelerations hold for each axis.
type Machine struct {
	ID           string  `json:"id"`
	Name         string  `json:"name"`
	WidthMM      float64 `json:"width_mm"` // widest cut
	MaxForceGF   float64 `json:"max_force_gf"`
	MaxSpeedMMS  float64 `json:"max_speed_mm_s"`
	TravelMMS    float64 `json:"travel_mm_s"` // knife up
	AccelMMS2    float64 `json:"accel_mm_s2"`
	LiftS        float64 `json:"lift_s"` // one lift and drop of the knife
	MaxCaliperUM float64 `json:"max_caliper_um"`
	LoadS        float64 `json:"load_s"`
	TestS        float64 `json:"test_s"` // a test cut, which is made with each blade once a plan
	ToolChangeS  float64 `json:"tool_change_s"`
	UnloadS      float64 `json:"unload_s"`
	Blade        Blade   `json:"blade"`
	// Compensates is what the machine adds to a file by itself; empty: nobody
	// said, and plans ask.
	Compensates Compensation `json:"compensates,omitempty"`
	Axes        Axes         `json:"axes,omitzero"`
	// Lengths says who makes up for lengths that come out too short or too long; empty:
	// nobody said, and nothing is corrected.
	Lengths Corrector `json:"lengths,omitempty"`
	// TurnsLifted says that it turns the blade while that is lifted, into the direction in
	// which a line begins. A drag knife turns only while it is dragged in the material.
	TurnsLifted bool `json:"turns_lifted,omitempty"`
	// ForceStepGF is what a step of the plotter's instruction for force is; 0:
	// nobody knows, and forces are set by hand.
	ForceStepGF float64 `json:"force_step_gf,omitempty"`
	// PlotterArcs says that the machine understands the plotter's instruction for arcs;
	// else its files have chords.
	PlotterArcs bool `json:"plotter_arcs,omitempty"`
	// Blades are others kept for the holder; a Setting names the one it needs.
	Blades []Blade   `json:"blades,omitempty"`
	Mats   []MatSize `json:"mats,omitempty"`
}

// Corrector says who corrects lengths. Done twice it is as wrong as before.
type Corrector string

// Who corrects lengths.
const (
	LengthsByMachine Corrector = "machine" // it is set there
	LengthsByFile    Corrector = "file"
)

// Compensation is what a machine makes up for by itself when it runs a file.
type Compensation string

// What machines make up for. Doing it in the file as well spoils every corner.
const (
	CompensatesNothing Compensation = "nothing"
	CompensatesOffset  Compensation = "offset"             // how far the tip of the knife trails
	CompensatesAll     Compensation = "offset_and_overcut" // the ends of closed lines besides
)

// Offset reports whether the machine turns the knife by itself.
func (c Compensation) Offset() bool { return c == CompensatesOffset || c == CompensatesAll }

// Overcut reports whether the machine cuts past closures by itself.
func (c Compensation) Overcut() bool { return c == CompensatesAll }

// Blade is the knife in the holder. OffsetMM is measured on the individual
// blade: how far its tip trails the holder's axis.
type Blade struct {
	ID        string  `json:"id"`
	AngleDeg  float64 `json:"angle_deg"`
	OffsetMM  float64 `json:"offset_mm"`
	OvercutMM float64 `json:"overcut_mm"`
	LifeM     float64 `json:"life_m"` // metres a blade of this kind is used for
	// HoleMM is the least diameter of a hole that it cuts cleanly through a
	// stock: the more the tip trails, the larger.
	HoleMM float64 `json:"hole_mm,omitempty"`
	// Fitted is the ID of the FittedBlade that is meant; empty: nobody said which.
	Fitted string `json:"fitted,omitempty"`
}

// BladeFor returns the blade that the setting names, the one in the holder
// where it names none, and whether the machine has it.
func (m Machine) BladeFor(s Setting) (Blade, bool) {
	if s.BladeID == "" || s.BladeID == m.Blade.ID {
		return m.Blade, true
	}
	return find(m.Blades, func(b Blade) bool { return b.ID == s.BladeID })
}

// MatSize is a carrier mat and its usable area. Of sheets that fit onto it beside or
// behind each other, several are cut in one load.
type MatSize struct {
	ID       string  `json:"id"`
	Tack     Tack    `json:"tack"`
	WidthMM  float64 `json:"width_mm"`
	LengthMM float64 `json:"length_mm"`
	Loads    int     `json:"loads,omitempty"` // that it has carried so far; no plan depends on it
}

// Setting is a force and speed for one operation on a family of stock, and
// who tested it. An empty StockID stands for every stock of the family.
type Setting struct {
	ID         string            `json:"id"`
	Family     Family            `json:"family"`
	StockID    string            `json:"stock_id,omitempty"`
	MachineID  string            `json:"machine_id,omitempty"`
	Operation  artwork.Operation `json:"operation"`
	ForceGF    float64           `json:"force_gf"`
	SpeedMMS   float64           `json:"speed_mm_s"`
	Passes     int               `json:"passes"`
	ExposureMM float64           `json:"exposure_mm,omitempty"`
	// DashMM and TieMM are the cut and the whole length of a perforation; 0:
	// the line is run unbroken, with a perforating tool.
	DashMM float64 `json:"dash_mm,omitempty"`
	TieMM  float64 `json:"tie_mm,omitempty"`
	// LiftBelowDeg is the angle between two lines below which a machine that turns the
	// lifted blade does so at their corner, which a blade that swivels in thick material
	// would tear; 0: it swivels.
	LiftBelowDeg float64 `json:"lift_below_deg,omitempty"`
	BladeID      string  `json:"blade_id,omitempty"`
	TestedBy     string  `json:"tested_by,omitempty"` // empty: a start point for a test cut
	TestedOn     string  `json:"tested_on,omitempty"` // ISO 8601 date
	Batch        string  `json:"batch,omitempty"`
}
