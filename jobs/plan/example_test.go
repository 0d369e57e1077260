package plan_test

import (
	"context"
	"encoding/json"
	"fmt"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// The whole computation: a square sign with a round hole, drawn in inches on
// the college's convention, three copies on removable film.
func Example() {
	drawing := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="4in" viewBox="0 0 4 4">
		<g id="CUT" fill="none" stroke="#007c91"><path d="M0.5 0.5H3.5V3.5H0.5Z"/><circle cx="2" cy="2" r="0.5"/></g></svg>`)

	request, err := plan.Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610", Copies: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	results := map[string]json.RawMessage{}
	for _, stage := range plan.Stages() {
		in := plan.Input{File: drawing, Request: request, Results: results}
		body, _, err := stage.Execute(context.Background(), in)
		if err != nil {
			fmt.Println(err)
			return
		}
		results[stage.Name] = body
	}

	var s size.Result
	var m weeding.Map
	var l layout.Layout
	var p passes.Plan
	done := plan.Input{Results: results}
	for name, into := range map[string]any{plan.StageSize: &s, plan.StageWeeding: &m, plan.StageLayout: &l, plan.StagePasses: &p} {
		if err := done.From(name, into); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Printf("size: %.1f × %.1f mm (%s)\n", s.WidthMM, s.HeightMM, s.Cause)
	for _, r := range m.Regions {
		fmt.Printf("region %d: %s, %.0f mm²\n", r.Number, r.Class, r.AreaMM2)
	}
	fmt.Printf("layout: %d copies, %.1f mm of roll\n", len(l.Loads[0].Placements), l.Usage.RollMM)
	fmt.Printf("passes: %s, %d runs\n", p.Loads[0].Passes[0].Operation, len(p.Loads[0].Passes[0].Runs))
	// Output:
	// size: 76.2 × 76.2 mm (declared_unit)
	// region 1: kept, 5300 mm²
	// region 2: counter, 506 mm²
	// layout: 3 copies, 176.2 mm of roll
	// passes: kiss_cut, 6 runs
}
