package estimate

import (
	"context"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Stage names the stage that prices a plan.
const Stage = "estimate"

// PlanStage returns the stage that follows those of geometry/plan: it alone
// reads the prices, so that a changed price runs nothing else again.
func PlanStage() plan.Stage {
	return plan.Stage{
		Name: Stage, Revision: 1,
		Needs: []string{plan.StageWeeding, plan.StageLayout, plan.StagePasses},
		Reads: func(r *plan.Request) any { return readsOf(r) },
		Run:   run,
	}
}

// reads is the part of the request that the estimate depends on.
type reads struct {
	Stock  workshop.Stock     `json:"stock"`
	Copies int                `json:"copies"`
	Prices workshop.PriceList `json:"prices"`
}

func readsOf(r *plan.Request) reads { return reads{r.Stock, r.Copies, r.Prices} }

func run(_ context.Context, in plan.Input) (plan.Result, error) {
	var m weeding.Map
	var l layout.Layout
	var p passes.Plan
	for stage, into := range map[string]any{plan.StageWeeding: &m, plan.StageLayout: &l, plan.StagePasses: &p} {
		if err := in.From(stage, into); err != nil {
			return nil, err
		}
	}
	r := readsOf(in.Request)
	return Make(Input{
		Stock: r.Stock, Copies: r.Copies, Loads: len(l.Loads), Usage: l.Usage,
		Time: p.Time, CutMM: p.CutMM, Effort: m.Effort, Prices: r.Prices,
	}), nil
}
