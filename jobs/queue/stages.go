package queue

import (
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/plan"
)

// Stages returns the whole computation in order: that of geometry/plan, then
// minutes and money.
func Stages() []plan.Stage { return append(plan.Stages(), estimate.PlanStage()) }
