package passes_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// on lays squares of such a side at these corners of a sheet of film.
func on(t *testing.T, hold workshop.Hold, side float64, corners ...geometry.Point) job {
	t.Helper()
	j := oneLoad(t, square(artwork.KissCut, 0, 0, side))
	j.req.Stock.Hold, j.req.Stock.UsableWidthMM = hold, 180
	load := layout.Load{Number: 1, WidthMM: 200, LengthMM: 200}
	for i, c := range corners {
		load.Placements = append(load.Placements, layout.Placement{
			Copy: i + 1, Transform: geometry.Translate(c.X, c.Y), Bounds: geometry.Box{Min: c, Max: c.Add(geometry.Pt(side, side))},
		})
	}
	j.layout = &layout.Layout{Loads: []layout.Load{load}}
	return j
}

// The blade, 0.25 mm off its axis, is turned in what no copy covers, 0.75 mm off it
// on each side, 2 mm off the edges and between the lanes of the rollers; where
// nothing is free it is said. By hand: a square of 195 mm from (1, 1) leaves 4 mm at
// the right and the tail, which 2 mm of edge, and 0.75 mm on both sides of the
// axis, fit; from (1, 1) with 198 mm nothing is left.
func TestLeadInLiesInWaste(t *testing.T) {
	for name, tt := range map[string]struct {
		job  job
		free bool
	}{
		"an empty corner":     {on(t, workshop.Mat, 50, geometry.Pt(100, 100)), true},
		"the corner is taken": {on(t, workshop.Mat, 50, geometry.Pt(0, 0), geometry.Pt(50, 0), geometry.Pt(0, 50)), true},
		"between two copies":  {on(t, workshop.Mat, 98, geometry.Pt(0, 0), geometry.Pt(101, 0), geometry.Pt(0, 101), geometry.Pt(101, 101)), true},
		"at the far edges":    {on(t, workshop.Mat, 195, geometry.Pt(1, 1)), true},
		"a full sheet":        {on(t, workshop.Mat, 198, geometry.Pt(1, 1)), false},
		"between the lanes":   {on(t, workshop.Rollers, 50, geometry.Pt(10, 0)), true},
	} {
		p := tt.job.order(t)
		lead := p.Loads[0].Passes[0].LeadIn
		told := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Code == finding.NoLeadIn })
		if (lead != nil) != tt.free || told == tt.free {
			t.Errorf("%s: lead-in %v, told %v", name, lead, told)
			continue
		}
		if lead == nil {
			continue
		}
		box := geometry.BoxAround(lead.From, lead.To).Grow(0.25)
		room := geometry.Box{Min: geometry.Pt(2, 2), Max: geometry.Pt(198, 198)}
		if tt.job.req.Stock.Hold == workshop.Rollers {
			room.Min.X, room.Max.X = 10, 190
		}
		if !room.ContainsBox(box) || lead.From.Dist(lead.To) < 4.4 {
			t.Errorf("%s: the lead-in %v leaves %v", name, lead, room)
		}
		for _, at := range tt.job.layout.Loads[0].Placements {
			if at.Bounds.Grow(0.49).Overlaps(box) {
				t.Errorf("%s: the lead-in %v meets %v", name, lead, at.Bounds)
			}
		}
	}
}
