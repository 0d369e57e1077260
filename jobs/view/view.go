// Package view makes what people get of a plan: the view that callers read, a
// text for a shell, pictures, the worksheet and the files to cut from.
package view

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
)

// Results are those of a plan's jobs as far as they are known, for what cannot
// be shown without them; the result of a job that has not run is nil.
type Results struct {
	Drawing  *read.Result
	Size     *size.Result
	Artwork  *artwork.Artwork
	Weeding  *weeding.Map
	Layout   *layout.Layout
	Passes   *passes.Plan
	Estimate *estimate.Estimate

	parts []Part
	cells bool // the passes are those of a test cut
}

// Take takes over what the jobs say, in their order, and numbers their findings
// as Outcome does, so that pictures mark them by the same numbers.
func (r *Results) Take(parts []Part) {
	r.parts = parts
	next := 1
	for _, p := range parts {
		next = finding.Number(p.Findings, next)
	}
}

// beside lists the findings of the jobs whose places are in drawing units, with
// their places on the artwork.
func (r *Results) beside() []finding.Finding {
	all, _ := Outcome(r.parts)
	var beside []finding.Finding
	at := 0
	for _, p := range r.parts {
		if p.Digest.InDrawing {
			beside = append(beside, all[at:at+len(p.Findings)]...)
		}
		at += len(p.Findings)
	}
	return beside
}

// Loads returns how many loads there are to draw.
func (r *Results) Loads() int {
	if r.Layout == nil {
		return 0
	}
	return len(r.Layout.Loads)
}
