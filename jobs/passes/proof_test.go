package passes_test

import (
	"errors"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
)

// What is run is what was laid out, or the plan fails: each way in which a file
// to cut from could get another box is made and seen. Source: measured is what is
// made.
func TestProve(t *testing.T) {
	shape := artwork.Stroke{Path: path(t, "M0 0H60V30L40 50H0Z"), Operation: artwork.KissCut}
	hole := artwork.Stroke{Path: path(t, "M10 10H20V20Z"), Operation: artwork.KissCut}
	for name, tt := range map[string]struct {
		spoil func(*passes.Plan, *layout.Layout)
		whole bool
	}{
		"as planned": {func(*passes.Plan, *layout.Layout) {}, true},
		"a run lost": {func(p *passes.Plan, _ *layout.Layout) {
			runs := p.Loads[0].Passes[0].Runs
			for i, r := range runs {
				if r.Stroke == 0 {
					p.Loads[0].Passes[0].Runs = append(runs[:i:i], runs[i+1:]...)
					return
				}
			}
		}, false},
		"a pass lost":          {func(p *passes.Plan, _ *layout.Layout) { p.Loads[0].Passes = nil }, false},
		"one copy for two":     {func(p *passes.Plan, _ *layout.Layout) { sameCopy(p.Loads[0].Passes[0].Runs) }, false},
		"a copy numbered anew": {func(_ *passes.Plan, l *layout.Layout) { l.Loads[0].Placements[1].Copy = 9 }, false},
		"a copy enlarged":      {func(_ *passes.Plan, l *layout.Layout) { enlarge(l, geometry.Scale(1.001, 1.001)) }, false},
		"a copy sheared":       {func(_ *passes.Plan, l *layout.Layout) { enlarge(l, geometry.Affine{A: 1, C: 0.001, D: 1}) }, false},
		"a copy turned":        {func(_ *passes.Plan, l *layout.Layout) { enlarge(l, geometry.Rotate(0.3)) }, true},
		"a copy mirrored":      {func(_ *passes.Plan, l *layout.Layout) { enlarge(l, geometry.Scale(-1, 1)) }, true},
	} {
		j := jobOn(t, "film-removable-610", 3, shape, hole)
		p := j.order(t)
		tt.spoil(p, j.layout)
		var err error
		_ = budget.Run(t.Context(), func(b *budget.Budget) { err = p.Prove(b, j.strokes, j.layout) })
		var made *passes.MadeError
		if errors.As(err, &made) == tt.whole {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func sameCopy(runs []passes.Run) {
	for i := range runs {
		runs[i].Copy = 1
	}
}

func enlarge(l *layout.Layout, by geometry.Affine) {
	at := &l.Loads[0].Placements[1]
	at.Transform = by.Then(at.Transform)
}
