package main

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/cmd/knifedesk/scenario"
)

// deviations lists what is not as the case wants it.
func deviations(k scenario.Case, p *planBody, asked []string) []string {
	var faults []string
	note := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	w := k.Want
	if p.Status != w.Status {
		note("status %s, expected %s (questions: %s; findings: %v)", p.Status, w.Status, questionIDs(p), p.codes())
	}
	if len(asked) != len(k.Answers) {
		note("asked %d questions, expected %d", len(asked), len(k.Answers))
	}
	for _, code := range w.Findings {
		if !slices.Contains(p.codes(), code) {
			note("no finding %s among %v", code, p.codes())
		}
	}
	holdSize(w, p, note)
	holdAmounts(w, p, note)
	if p.Status == "ready" && (p.Estimate == nil || p.Estimate.TotalMinor <= 0) {
		note("no price")
	}
	if len(p.Cautions) == 0 {
		note("no cautions")
	}
	return faults
}

// sizeBound is how far, in mm, a repaired size may be off.
const sizeBound = 0.01

// holdSize notes where the size is not the one wanted.
func holdSize(w scenario.Want, p *planBody, note func(string, ...any)) {
	if w.WidthMM == 0 {
		return
	}
	if p.Size == nil {
		note("no size")
		return
	}
	if math.Abs(p.Size.WidthMM-w.WidthMM) > sizeBound || math.Abs(p.Size.HeightMM-w.HeightMM) > sizeBound {
		note("%.3f × %.3f mm, expected %g × %g", p.Size.WidthMM, p.Size.HeightMM, w.WidthMM, w.HeightMM)
	}
	if w.Cause != "" && p.Size.Cause != w.Cause {
		note("cause %s, expected %s", p.Size.Cause, w.Cause)
	}
}

// holdAmounts notes where stock and regions are not as many as wanted.
func holdAmounts(w scenario.Want, p *planBody, note func(string, ...any)) {
	if u := p.Usage; u != nil {
		if w.Sheets > 0 && u.Sheets != w.Sheets {
			note("%d sheets, expected %d", u.Sheets, w.Sheets)
		}
		if w.RollMM > 0 && math.Abs(u.RollMM-w.RollMM) > 0.1 {
			note("%.1f mm of roll, expected %g", u.RollMM, w.RollMM)
		}
	}
	if r := p.Weeding; r != nil {
		for _, c := range []struct {
			what      string
			got, want int
		}{{"kept regions", r.Kept, w.Kept}, {"counters", r.Counters, w.Counters}, {"bridges", r.Bridges, w.Bridges}} {
			if c.want > 0 && c.got != c.want {
				note("%d %s, expected %d", c.got, c.what, c.want)
			}
		}
	}
}
