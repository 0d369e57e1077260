// Package trial finds the force and the speed of a setting by test cuts, and says
// how far a setting can be relied on.
//
// A test cut is a sheet of cells, each at a force and a speed of its own. The first
// sheets vary the force at one speed, until it is known from where to where cells
// pass: the window. The next varies the speed at a force within it. What passed
// there is the setting; from then on one cell is cut again when batch or blade are
// others, or after a while.
//
// All of it is pure: the same sheets give the same next sheet.
package trial

import (
	"math"
	"slices"
)

// Verdict is what became of a cell.
type Verdict string

// The verdicts. Which way a cell failed halves the search, and may be unknown.
const (
	Passed   Verdict = "passed"
	TooLight Verdict = "too_light" // it does not come off clean
	TooDeep  Verdict = "too_deep"  // it is cut further than it should be
	Failed   Verdict = "failed"    // either, or it tears
)

// Cell is one cell of a sheet.
type Cell struct {
	ForceGF  float64 `json:"force_gf"`
	SpeedMMS float64 `json:"speed_mm_s"`
	Verdict  Verdict `json:"verdict,omitempty"` // empty: not cut yet
}

// at reports whether a cell was cut at this force and speed, rounding aside.
func (c Cell) at(force, speed float64) bool {
	const near = 1e-6
	return math.Abs(c.ForceGF-force) <= near*force && math.Abs(c.SpeedMMS-speed) <= near*speed
}

// Aim is what a sheet is to find out.
type Aim string

// The aims, in their order.
const (
	Force Aim = "force" // cells of one speed
	Speed Aim = "speed" // cells of one force
	Again Aim = "again" // one cell: whether the setting still holds
	// Lengths is no sheet to cut: the marks alone were measured, and no cell was looked at.
	Lengths Aim = "lengths"
)

// Record is a sheet that was cut and looked at.
type Record struct {
	Aim   Aim    `json:"aim"`
	Cells []Cell `json:"cells"`
	Day   string `json:"day"`             // ISO 8601 date
	Batch string `json:"batch,omitempty"` // of the material; empty: not known
	Blade string `json:"blade,omitempty"` // the individual blade; empty: not known
}

// verdict returns what became of the cells at this force and speed, and whether
// there were any. One that failed outweighs those that passed.
func (r *Record) verdict(force, speed float64) (v Verdict, cut bool) {
	for _, c := range r.Cells {
		if c.at(force, speed) && (!cut || v == Passed) {
			v, cut = c.Verdict, true
		}
	}
	return v, cut
}

// series returns the sheets that narrow what is looked for now, oldest first: those
// since a cell that was cut again has failed.
func series(all []Record) []Record {
	from := 0
	for i, r := range all {
		if r.Aim == Again && slices.ContainsFunc(r.Cells, func(c Cell) bool { return c.Verdict != Passed }) {
			from = i + 1
		}
	}
	return slices.DeleteFunc(slices.Clone(all[from:]), func(r Record) bool { return r.Aim == Again })
}
