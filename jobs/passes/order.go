package passes

import (
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Order plans the passes of every load: by operation in the fixed order, each
// with the setting chosen for it. Within a pass contained strokes come before
// what holds them, and travel is short. A through cut, which sets pieces
// loose, also goes from small to large over the whole load, by decades of area;
// film is held by its liner, so there the shortest way decides. On a roll one
// band along the feed is finished before the next.
//
// A stroke that is repeated is repeated in place: a closed one goes round
// again without a lift, an open one is run again from its start.
//
// What machine or stock cannot do is a finding; numbers that make no sense, such
// as a machine without speed, are a *RequestError; passes that do not run what was
// laid out are a *MadeError. Where ctx ends first, its
// error is returned.
func Order(ctx context.Context, strokes []artwork.Stroke, laid *layout.Layout, req Request) (*Plan, error) {
	p := &Plan{Axes: req.Machine.Axes, Arcs: req.Machine.PlotterArcs, Stretch: stretchOf(req)}
	var refused error
	err := budget.Run(ctx, func(b *budget.Budget) {
		if refused = check(b, strokes, laid, req); refused == nil {
			p.checkMachine(b, strokes, laid, req)
			if refused = p.order(b, strokes, laid, req); refused == nil {
				refused = p.Prove(b, strokes, laid)
			}
		}
		if laid.Shared() {
			p.unplace()
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

// order plans the passes of all loads, and proves that the tip cuts the lines;
// equal ones are planned once. Its error is a fault of the program.
func (p *Plan) order(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout, req Request) error {
	by, open := compensates(req)
	told := allOf(laid, strokes)
	steps := p.steps(b, told, req, by)
	p.askWhereItMatters(open, steps)
	p.checkKnife(b, told, steps, req.Stock)
	p.tellLengths(req)
	if len(steps) == 0 {
		return nil
	}
	parts := partSteps(b, laid, steps, req, by)
	inHolder := steps[0].tool
	p.Time.TestS = req.Machine.TestS * float64(blades(steps))
	cache := map[alike]Load{}
	for i, load := range laid.Loads {
		steps, strokes := parts[max(0, load.Map-1)], laid.StrokesOf(&laid.Loads[i], strokes)
		if i > 0 {
			req.Untrusted = nil
		}
		key := alike{inHolder, load.Map, len(req.Untrusted) > 0, shapeOf(b, load)}
		done, ok := cache[key]
		if !ok {
			var err error
			if done, err = orderLoad(b, load, strokes, steps, inHolder, req); err != nil {
				return err
			}
			cache[key] = done
		}
		p.add(done.renumbered(b, load), req.Machine)
		inHolder = steps[len(steps)-1].tool
	}
	p.tellLeadIns()
	return nil
}

// step is one operation with its setting: a pass on every load.
type step struct {
	set     workshop.Setting
	tool    tool
	blade   string // its ID; empty: none
	rule    toolpath.Rule
	members []int // strokes, by number
	rules   sequence
	starts  [][]start    // of the closed strokes
	past    [][2]float64 // how far the open ones are cut past their ends, in mm
}

// blades returns how many blades the steps need. A test cut is made with each, once
// for a stock of one batch, and not again with every load.
func blades(steps []step) int {
	own := map[string]bool{}
	for _, st := range steps {
		if st.blade != "" {
			own[st.blade] = true
		}
	}
	return len(own)
}

// look finds out of the strokes of the step in what order they may be run, where they may
// begin and how far they go past their ends.
func (st *step) look(b *budget.Budget, own []artwork.Stroke) {
	op := st.set.Operation
	st.rules = sequenceOf(b, own, op)
	st.starts = startsOf(b, own, op, st.rules.depth)
	for i := range own {
		if own[i].Path.Closed && st.rule.OffsetMM > 0 {
			heads(b, &own[i].Path, st.starts[i], st.rule.OvercutMM)
		}
	}
	st.past = pastEnds(b, own, op, st.rule.OvercutMM)
}

// steps returns the operations that occur, in the fixed order. One without a
// setting is a finding and is left out.
func (p *Plan) steps(b *budget.Budget, strokes []artwork.Stroke, req Request, by workshop.Compensation) []step {
	var all []step
	for _, op := range artwork.Operations() {
		st := step{}
		var own []artwork.Stroke
		for i := range strokes {
			b.Step()
			if strokes[i].Operation == op && !strokes[i].Path.Empty() {
				st.members = append(st.members, i)
				own = append(own, strokes[i])
			}
		}
		if len(own) == 0 {
			continue
		}
		set, ok := chooseSetting(req.Settings, req.Stock, req.Machine, op)
		if !ok || set.SpeedMMS <= 0 {
			p.find(finding.SettingMissing, finding.Values{
				"operation": finding.Text(op.Words()), "stock": finding.Text(req.Stock.Name), "family": finding.Text(string(req.Stock.Family)), "machine": finding.Text(req.Machine.Name),
			}, nil)
			continue
		}
		st.set = p.checkSetting(set, req)
		st.tool, st.blade, st.rule = toolFor(st.set, req, by)
		st.look(b, own)
		all = append(all, st)
	}
	return all
}
