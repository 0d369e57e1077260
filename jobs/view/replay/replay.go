// Package replay tells what the machine does on one load, in its order and time,
// so that it can be looked at before it is done.
//
// It reads the moves that were timed and that files are written from. Lengths are
// in mm, in load coordinates: x to the right, y along the feed. Times are in s from
// the start of the load's motion, without loading, tests and changes of the tool.
package replay

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// Replay is the motion of one load.
type Replay struct {
	Load     int // from 1
	Loads    int // of the plan
	WidthMM  float64
	LengthMM float64
	MotionS  float64
	// WithinMM is how far at most what is shown lies from the way of the axis, since it
	// is thinned and rounded.
	WithinMM float64
	// Runs is how many lines the machine runs, of which every EachOf is in Lines: 1
	// for all of them.
	Runs, EachOf int
	Passes       []Pass
	Lines        []Line
}

// Pass is one pass of the load.
type Pass struct {
	Number    int // from 1
	Operation artwork.Operation
	Tool      string // what is in the holder
	Changed   bool   // the tool is changed before it, which takes PauseS
	PauseS    float64
	FromS     float64
	ToS       float64
	DashMM    float64 // of a perforation; 0: its lines are unbroken
	TieMM     float64
	Counts    []Count // what it runs, in the order of Roles
}

// Count is how many lines of a role a pass runs.
type Count struct {
	Role  Role
	Lines int
}

// Line is what a tool does from one travel to the next: it is lowered, runs along
// a line, perforated lines with all their ties, and is lifted.
type Line struct {
	Pass  int // from 1
	Copy  int // 0 for a lead-in
	Role  Role
	FromS float64 // it travels there from then on
	DownS float64 // it has been lowered
	UpS   float64 // it begins to be lifted
	Marks []Mark  // where it is from DownS to UpS, two at least
}

// Mark is where the axis is at a time.
type Mark struct{ X, Y, S float64 }

// Request is what a replay is made from besides the load's number.
type Request struct {
	Plan    *passes.Plan
	Laid    *layout.Layout
	Strokes []artwork.Stroke // of the piece
	Machine workshop.Machine // that Plan was made for
}

// Of returns the replay of a load, from 1. It fails where there is no such load.
func Of(b *budget.Budget, r Request, load int) (*Replay, error) {
	if load < 1 || load > len(r.Plan.Loads) || load > len(r.Laid.Loads) {
		return nil, fmt.Errorf("replay: there is no load %d", load)
	}
	laid := &r.Laid.Loads[load-1]
	out := &Replay{Load: load, Loads: len(r.Plan.Loads), WidthMM: laid.WidthMM, LengthMM: laid.LengthMM}
	strokes := r.Laid.StrokesOf(laid, r.Strokes)
	rec := &recorder{
		b: b, out: out, load: &r.Plan.Loads[load-1], axes: passes.AxesOf(r.Machine), liftS: r.Machine.LiftS,
		roles: rolesOf(b, strokes), thin: newThinning(laid.WidthMM, laid.LengthMM),
	}
	rec.travel = rec.axes.Travel()
	rec.record(r.Plan.Moves(b, passes.Excerpt{Load: load - 1, Onto: geometry.Identity}, r.Strokes, r.Laid))
	return out, nil
}
