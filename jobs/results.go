package jobs

import "knifedesk/jobs/view"

// Shown gathers results for the pictures, the worksheet and the files to cut
// from: those of a plan, or of common loads. It numbers their findings in place.
func (l *List) Shown(all Results) *view.Results {
	r := &view.Results{
		Drawing: l.Read.In(all), Size: l.Size.In(all), Artwork: l.Artwork.In(all), Weeding: l.Weeding.In(all),
		Layout: l.Layout.In(all), Passes: l.Passes.In(all), Estimate: l.Estimate.In(all),
	}
	rows := l.Rows
	if s := l.Share.In(all); s != nil {
		rows = l.Shared
		r.Layout, r.Weeding, r.Passes, r.Estimate = &s.Layout, s.Whole(), l.SharePasses.In(all), l.ShareEstimate.In(all)
	}
	r.Take(partsOf(rows, all))
	return r
}

// Parts lists what the results say to the plan, in the order of the jobs.
func (l *List) Parts(all Results) []view.Part { return partsOf(l.Rows, all) }

func partsOf(rows []*Row, all Results) []view.Part {
	var parts []view.Part
	for _, row := range rows {
		if r, ok := all[row.Name]; ok {
			o := OutcomeOf(r)
			parts = append(parts, view.Part{Job: row.Name, Findings: o.Findings, Questions: o.Questions, Digest: row.Digest(r)})
		}
	}
	return parts
}

// Row returns the row of a job by its name, nil where there is none.
func (l *List) Row(name string) *Row {
	for _, row := range l.Rows {
		if row.Name == name {
			return row
		}
	}
	return nil
}
