package passes

import (
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Group is strokes that are run at a setting of their own.
type Group struct {
	Setting workshop.Setting
	Strokes []int // by number
}

// OrderGroups plans a layout of one load whose groups are run one after the other, a
// pass each, as Order plans operations: with the same moves, proved alike. The strokes
// of a group are of one operation. It is how a test cut is run.
func OrderGroups(ctx context.Context, strokes []artwork.Stroke, laid *layout.Layout, req Request, groups []Group) (*Plan, error) {
	p := &Plan{Axes: req.Machine.Axes, Arcs: req.Machine.PlotterArcs}
	var refused error
	err := budget.Run(ctx, func(b *budget.Budget) {
		if refused = check(b, strokes, laid, req); refused != nil {
			return
		}
		p.checkMachine(b, strokes, laid, req)
		by, open := compensates(req)
		steps := make([]step, len(groups))
		for i, g := range groups {
			steps[i] = p.stepOf(b, g, strokes, req, by)
		}
		p.askWhereItMatters(open, steps)
		load := laid.Loads[0]
		done, err := orderLoad(b, load, strokes, steps, steps[0].tool, req)
		if refused = err; refused == nil {
			p.add(done.renumbered(b, load), req.Machine)
			refused = p.Prove(b, strokes, laid)
		}
	})
	if err == nil {
		err = refused
	}
	if err != nil {
		return nil, err
	}
	return p, nil
}

// stepOf returns a group as a step. What of its setting is beyond the machine is told
// once.
func (p *Plan) stepOf(b *budget.Budget, g Group, strokes []artwork.Stroke, req Request, by workshop.Compensation) step {
	var told Plan
	st := step{set: told.checkSetting(g.Setting, req), members: g.Strokes}
	for _, f := range told.Findings {
		if !p.has(f.Code) {
			p.Findings = append(p.Findings, f)
		}
	}
	st.tool, st.blade, st.rule = toolFor(st.set, req, by)
	own := make([]artwork.Stroke, len(g.Strokes))
	for i, k := range g.Strokes {
		own[i] = strokes[k]
	}
	st.look(b, own)
	return st
}

func (p *Plan) has(code finding.Code) bool {
	for _, f := range p.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

// MostForce returns the most force that the tool which runs a setting is used with, in
// gf: what the machine gives, or what a score by the blade of the cut may have. 0: any.
func MostForce(set workshop.Setting, req Request) float64 {
	most := req.Machine.MaxForceGF
	if cut, ok := lightly(set, req); ok && set.Operation == artwork.Score {
		if light := scoringForce * cut.ForceGF; most <= 0 || light < most {
			most = light
		}
	}
	return most
}

// BladeOf returns the blade that runs a setting, and false for a pen or a blunt tip.
func BladeOf(set workshop.Setting, req Request) (workshop.Blade, bool) {
	_, id, _ := toolFor(set, req, "")
	if id == "" {
		return workshop.Blade{}, false
	}
	return req.Machine.BladeFor(workshop.Setting{BladeID: id})
}
