// Package view gathers the results of a plan's stages into what a person or
// a booking system wants to see at a glance.
package view

import (
	"encoding/json"
	"fmt"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
)

// View is the results of a plan's stages as far as they are known; a stage
// that has not run is nil.
type View struct {
	Drawing  *read.Result
	Size     *size.Result
	Artwork  *artwork.Artwork
	Weeding  *weeding.Map
	Layout   *layout.Layout
	Passes   *passes.Plan
	Estimate *estimate.Estimate
}

// Decode reads the stored results by stage name, and numbers their findings as
// Outcome lists them.
func Decode(results map[string]json.RawMessage) (*View, error) {
	v := &View{}
	for name, into := range map[string]any{
		plan.StageRead: &v.Drawing, plan.StageSize: &v.Size, plan.StageArtwork: &v.Artwork,
		plan.StageWeeding: &v.Weeding, plan.StageLayout: &v.Layout, plan.StagePasses: &v.Passes,
		estimate.Stage: &v.Estimate,
	} {
		raw, ok := results[name]
		if !ok {
			continue
		}
		if err := json.Unmarshal(raw, into); err != nil {
			return nil, fmt.Errorf("summary: result of stage %s: %w", name, err)
		}
	}
	next := 1
	for _, r := range v.stages() {
		fs, _ := r.Outcome()
		next = finding.Number(fs, next)
	}
	return v, nil
}

// Outcome lists the findings and open questions of all stages, in their order,
// with their places in mm on the artwork.
func (v *View) Outcome() (findings []finding.Finding, questions []ask.Question) {
	for _, r := range v.stages() {
		f, q := v.outcome(r)
		findings, questions = append(findings, f...), append(questions, q...)
	}
	return findings, questions
}

// stages returns the results there are, in the order of their stages.
func (v *View) stages() []plan.Result {
	var all []plan.Result
	for _, r := range []struct {
		there  bool
		result plan.Result
	}{
		{v.Drawing != nil, v.Drawing}, {v.Size != nil, v.Size}, {v.Artwork != nil, v.Artwork},
		{v.Weeding != nil, v.Weeding}, {v.Layout != nil, v.Layout}, {v.Passes != nil, v.Passes},
		{v.Estimate != nil, v.Estimate},
	} {
		if r.there {
			all = append(all, r.result)
		}
	}
	return all
}

// Size is the true size in short.
type Size struct {
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	X        float64 `json:"mm_per_unit_x"`
	Y        float64 `json:"mm_per_unit_y"`
	Cause    string  `json:"cause"`
	Why      string  `json:"why"`
	Frame    string  `json:"frame,omitempty"`
}

// SizeShort returns the true size in short, nil while it is not settled.
func (v *View) SizeShort() *Size {
	if v.Size == nil || len(v.Size.Questions) > 0 || finding.Worst(v.Size.Findings) == finding.Block {
		return nil
	}
	s := &Size{
		WidthMM: v.Size.WidthMM, HeightMM: v.Size.HeightMM, X: v.Size.X, Y: v.Size.Y,
		Cause: v.Size.Cause, Why: v.Size.Why,
	}
	if v.Size.Frame != nil {
		s.Frame = v.Size.Frame.Name
	}
	return s
}

// Weeding is the weeding map in numbers.
type Weeding struct {
	Kept        int     `json:"kept"`
	Surrounds   int     `json:"surrounds"`
	Grounds     int     `json:"grounds"`
	Counters    int     `json:"counters"`
	Fragile     int     `json:"fragile"`
	ReliefLines int     `json:"relief_lines"`
	Bridges     int     `json:"bridges"`
	BenchS      float64 `json:"bench_s"` // weeding all copies
}

// WeedingShort counts the weeding map, nil before it is drawn.
func (v *View) WeedingShort(copies int) *Weeding {
	if v.Weeding == nil {
		return nil
	}
	w := &Weeding{BenchS: v.Weeding.Effort.Seconds(copies)}
	for i := range v.Weeding.Regions {
		r := &v.Weeding.Regions[i]
		if r.Fragile {
			w.Fragile++
		}
		switch r.Class {
		case weeding.Kept:
			w.Kept++
		case weeding.Surround:
			w.Surrounds++
		case weeding.Ground:
			w.Grounds++
		case weeding.Counter:
			w.Counters++
		}
	}
	for _, s := range v.Weeding.Strokes {
		if s.Added == artwork.Relief {
			w.ReliefLines++
		}
	}
	for _, f := range v.Weeding.Findings {
		if n, ok := f.Values["bridges"].(float64); ok && f.Code == finding.IslandBridged {
			w.Bridges += int(n) // a number of JSON
		}
	}
	return w
}

// Layout is the layout in numbers.
type Layout struct {
	Loads    int  `json:"loads"`
	Copies   int  `json:"copies"`
	Mirrored bool `json:"mirrored"`
}

// LayoutShort counts the layout, nil before there is one.
func (v *View) LayoutShort() *Layout {
	if v.Layout == nil {
		return nil
	}
	l := &Layout{Loads: len(v.Layout.Loads), Mirrored: v.Layout.Mirrored}
	for _, ld := range v.Layout.Loads {
		l.Copies += len(ld.Placements)
	}
	return l
}

// Pass is one pass in short.
type Pass struct {
	Load      int               `json:"load"`
	Number    int               `json:"number"`
	Operation artwork.Operation `json:"operation"`
	ForceGF   float64           `json:"force_gf"`
	SpeedMMS  float64           `json:"speed_mm_s"`
	Passes    int               `json:"passes"`
	Tested    bool              `json:"tested"` // false: a start point, make a test cut
	Strokes   int               `json:"strokes"`
	CutMM     float64           `json:"cut_mm"`
	TravelMM  float64           `json:"travel_mm"`
	Lifts     int               `json:"lifts"`
	MotionS   float64           `json:"motion_s"`
}

// PassesShort lists the passes without their runs.
func (v *View) PassesShort() []Pass {
	if v.Passes == nil {
		return nil
	}
	all := []Pass{}
	for _, ld := range v.Passes.Loads {
		for _, p := range ld.Passes {
			all = append(all, Pass{
				Load: ld.Number, Number: p.Number, Operation: p.Operation,
				ForceGF: p.Setting.ForceGF, SpeedMMS: p.Setting.SpeedMMS, Passes: p.Setting.Passes,
				Tested: p.Setting.TestedBy != "", Strokes: len(p.Runs),
				CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts, MotionS: p.MotionS,
			})
		}
	}
	return all
}
