// Package passes orders the strokes of every load into passes, says how the tool
// runs each, and takes the time of the machine.
package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Request is what the job needs besides strokes and layout.
type Request struct {
	Stock    workshop.Stock     `json:"stock"`
	Machine  workshop.Machine   `json:"machine"`
	Settings []workshop.Setting `json:"settings"`
	Replies  ask.Replies        `json:"replies,omitempty"`
	// Lengths are the marks of the last test cut that was measured on the stock, held
	// as it is; nil: none was, or they are right.
	Lengths *trial.Marks `json:"lengths,omitempty"`
	// Untrusted are the settings, by ID, that no test cuts make trusted for the batch that
	// is loaded: a mark is cut before what they cut. None where no batch is named.
	Untrusted []string `json:"untrusted,omitempty"`
	// Removed is where a mark may lie within a piece, from the piece's map.
	Removed []Spot `json:"-"`
}

// Plan is all passes of all loads in the order in which they run.
type Plan struct {
	Loads     []Load            `json:"loads"`
	Axes      workshop.Axes     `json:"axes,omitzero"`     // how the machine counts, which files follow
	Arcs      bool              `json:"arcs,omitempty"`    // the machine understands arcs in plotter files
	Stretch   *Stretch          `json:"stretch,omitempty"` // of files; nil: none
	Time      Time              `json:"time"`              // of all loads
	CutMM     float64           `json:"cut_mm"`
	TravelMM  float64           `json:"travel_mm"`
	Lifts     int               `json:"lifts"`
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

// Outcome lists what the job found and what it has to ask.
func (p *Plan) Outcome() ([]finding.Finding, []ask.Question) { return p.Findings, p.Questions }

// Load is the passes of one filling of the machine.
type Load struct {
	Number int    `json:"number"`
	Passes []Pass `json:"passes"`
}

// Pass is all strokes of one operation at one setting on one load, in order.
type Pass struct {
	Number    int               `json:"number"` // within the load, from 1
	Operation artwork.Operation `json:"operation"`
	Setting   workshop.Setting  `json:"setting"` // as it is run
	// Blade is the ID of the blade in the holder; empty for a pen or a blunt tip.
	Blade string        `json:"blade,omitempty"`
	Rule  toolpath.Rule `json:"rule"`
	// ForceSteps is the force as the plotter's instruction counts it; 0: by hand.
	ForceSteps int `json:"force_steps,omitempty"`
	// Changed says that another tool is put into the holder before the pass.
	Changed bool `json:"changed"`
	// LeadIn is cut in waste before all else where nobody knows how the blade
	// stands in the holder; nil: it does not trail, the machine sees to it, there is no
	// room, or the pass before has left it standing as the moves take it to stand.
	LeadIn *toolpath.LeadIn `json:"lead_in,omitempty"`
	// LeadInAlone is what only a file of the pass by itself begins with, where the pass
	// before has turned the blade: it is no part of the load, nor of what follows here.
	LeadInAlone *toolpath.LeadIn `json:"lead_in_alone,omitempty"`
	// Mark is a test mark, which is all that the pass cuts; nil: it runs lines. NoMark says
	// that one ought to be cut before the pass and has no room.
	Mark     *Mark   `json:"test_mark,omitempty"`
	NoMark   bool    `json:"no_test_mark,omitempty"`
	Runs     []Run   `json:"runs"`
	CutMM    float64 `json:"cut_mm"` // lead-in, overcut and repeats included
	TravelMM float64 `json:"travel_mm"`
	Lifts    int     `json:"lifts"`
	Turns    int     `json:"turns,omitempty"` // lifts at corners over which the machine turns the blade
	CutS     float64 `json:"cut_s"`           // knife down
	TravelS  float64 `json:"travel_s"`        // knife up
	MotionS  float64 `json:"motion_s"`        // cut, travel and lifts
	PauseS   float64 `json:"pause_s"`         // change of tool before it
}

// Run is one stroke of one copy: knife down at At, up at the end.
type Run struct {
	Copy     int     `json:"copy"`
	Stroke   int     `json:"stroke"`          // index into weeding.Map.Strokes
	Start    int     `json:"start,omitempty"` // segment a closed path starts with
	Along    float64 `json:"along,omitempty"` // share of that segment that it starts after
	Reversed bool    `json:"reversed,omitempty"`
	// How far an open path is cut past its first and its last point, as it is drawn,
	// along lines that go straight on there.
	BeforeMM float64 `json:"before_mm,omitempty"`
	AfterMM  float64 `json:"after_mm,omitempty"`

	At geometry.Point `json:"at"` // where it begins, in load coordinates
}

// Time is the machine's seconds.
type Time struct {
	LoadS   float64 `json:"load_s"`
	TestS   float64 `json:"test_s"`
	CutS    float64 `json:"cut_s"`
	TravelS float64 `json:"travel_s"`
	LiftS   float64 `json:"lift_s"`
	PauseS  float64 `json:"pause_s"`
	UnloadS float64 `json:"unload_s"`
}

// Total returns all seconds together.
func (t Time) Total() float64 {
	return t.LoadS + t.TestS + t.CutS + t.TravelS + t.LiftS + t.PauseS + t.UnloadS
}
