package passes

import (
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// ChooseSetting is chooseSetting for tests.
var ChooseSetting = chooseSetting

// MotionFromCorners returns the seconds in which the machine moves on the first load,
// planned as by Order, and planned with contours that may begin at any of their vertices.
func MotionFromCorners(ctx context.Context, strokes []artwork.Stroke, laid *layout.Layout, req Request) (planned, anywhere float64, err error) {
	by, _ := compensates(req)
	seconds := func(b *budget.Budget, free bool) float64 {
		steps := new(Plan).steps(b, strokes, req, by)
		for i := range steps {
			for k := range steps[i].members {
				if path := &strokes[steps[i].members[k]].Path; free && path.Closed {
					steps[i].starts[k] = thinned(vertices(path, func(float64) bool { return true }))
					heads(b, path, steps[i].starts[k], steps[i].rule.OvercutMM)
				}
			}
		}
		load, failed := orderLoad(b, laid.Loads[0], strokes, steps, steps[0].tool, req)
		if failed != nil {
			err = failed
		}
		sum := 0.0
		for _, p := range load.Passes {
			sum += p.MotionS
		}
		return sum
	}
	if stopped := budget.Run(ctx, func(b *budget.Budget) { planned, anywhere = seconds(b, false), seconds(b, true) }); stopped != nil {
		err = stopped
	}
	return planned, anywhere, err
}
