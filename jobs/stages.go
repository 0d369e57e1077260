package jobs

import (
	"knifedesk/geometry/plan"
	"knifedesk/jobs/estimate"
)

// Stages returns the whole computation in order: that of geometry/plan, then
// minutes and money.
func Stages() []plan.Stage { return append(plan.Stages(), estimate.PlanStage()) }
