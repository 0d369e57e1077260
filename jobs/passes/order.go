package passes

import (
	"context"
	"encoding/binary"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// feedBand is the length of a roll, in mm, that is finished before the next:
// the film is fed to and fro as little as may be, since it drifts.
const feedBand = 300

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
// as a machine without speed, are a *RequestError. Where ctx ends first, its
// error is returned.
func Order(ctx context.Context, strokes []artwork.Stroke, laid *layout.Layout, req Request) (*Plan, error) {
	p := &Plan{}
	var refused error
	err := budget.Run(ctx, func(b *budget.Budget) {
		if refused = check(b, strokes, laid, req); refused == nil {
			p.checkMachine(b, strokes, laid, req)
			p.order(b, strokes, laid, req)
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

// order plans the passes of all loads; equal ones are planned once.
func (p *Plan) order(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout, req Request) {
	steps := p.steps(b, strokes, req)
	if len(steps) == 0 {
		return
	}
	inHolder := steps[0].tool
	type alike struct {
		inHolder tool
		shape    string
	}
	cache := map[alike]Load{}
	for _, load := range laid.Loads {
		key := alike{inHolder, shapeOf(b, load)}
		done, ok := cache[key]
		if !ok {
			done = orderLoad(b, load, strokes, steps, inHolder, req)
			cache[key] = done
		}
		p.add(done.renumbered(b, load), req.Machine)
		inHolder = steps[len(steps)-1].tool
	}
}

// step is one operation with its setting: a pass on every load.
type step struct {
	set     workshop.Setting
	tool    tool
	blade   knife.Blade
	members []int // strokes, by number
	rules   sequence
}

// steps returns the operations that occur, in the fixed order. One without a
// setting is a finding and is left out.
func (p *Plan) steps(b *budget.Budget, strokes []artwork.Stroke, req Request) []step {
	var all []step
	for _, op := range artwork.Operations {
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
		set, ok := ChooseSetting(req.Settings, req.Stock, req.Machine, op)
		if !ok || set.SpeedMMS <= 0 {
			p.find(finding.SettingMissing, map[string]any{
				"operation": op.Words(), "stock": req.Stock.Name, "family": string(req.Stock.Family), "machine": req.Machine.Name,
			}, nil)
			continue
		}
		st.set = p.checkSetting(set, req)
		st.tool, st.blade = toolFor(op, st.set, req.Machine)
		st.rules = sequenceOf(b, own, op)
		all = append(all, st)
	}
	return all
}

// shapeOf tells loads with the same placements apart from others: all numbers
// of their transforms as bytes.
func shapeOf(b *budget.Budget, load layout.Load) string {
	all := make([]byte, 0, len(load.Placements)*6*8)
	for _, p := range load.Placements {
		b.Step()
		m := p.Transform
		for _, v := range [...]float64{m.A, m.B, m.C, m.D, m.E, m.F} {
			all = binary.LittleEndian.AppendUint64(all, math.Float64bits(v))
		}
	}
	return string(all)
}

// orderLoad plans the passes of one load. Its runs carry the place of a copy
// on the load, from 0, until renumbered gives them the copy's number.
func orderLoad(b *budget.Budget, load layout.Load, strokes []artwork.Stroke, steps []step, inHolder tool, req Request) Load {
	out := Load{Number: load.Number}
	at := geometry.Point{} // the machine rests at the load's origin
	var heading geometry.Point
	for i, st := range steps {
		pass := Pass{Number: i + 1, Operation: st.set.Operation, Setting: st.set}
		if st.tool != inHolder {
			pass.PauseS = req.Machine.ToolChangeS
			heading = geometry.Point{}
		}
		inHolder = st.tool
		stops := st.stops(b, load, strokes, req.Stock.Form == workshop.Roll)
		clock := newTiming(b, &pass, st.blade, req.Machine, at, heading)
		for _, visit := range tour.Through(b, stops, at, clock.travel) {
			run := st.run(&stops[visit.Stop], visit)
			placed := load.Placements[run.Copy]
			line := run.line(strokes[run.Stroke].Path)
			b.Spend(len(line.Segments))
			clock.run(run, line.Transform(placed.Transform))
		}
		at, heading = clock.at, clock.heading
		out.Passes = append(out.Passes, pass)
	}
	return out
}

// stops returns the strokes of the step on all copies of a load, copy by copy.
func (st *step) stops(b *budget.Budget, load layout.Load, strokes []artwork.Stroke, roll bool) []tour.Stop {
	n := len(st.members)
	stops := make([]tour.Stop, 0, n*len(load.Placements))
	for c, placed := range load.Placements {
		for i, number := range st.members {
			path := strokes[number].Path.Transform(placed.Transform)
			b.Spend(len(path.Segments))
			s := tour.Stop{Closed: path.Closed, Entries: entries(path)}
			if st.set.Operation == artwork.ThroughCut {
				s.Phase = st.rules.tier[i]
			}
			if roll {
				s.Phase = int(math.Max(0, math.Floor(path.Bounds().Max.Y/feedBand)))
			}
			for _, later := range st.rules.after[i] {
				s.After = append(s.After, c*n+later)
			}
			stops = append(stops, s)
		}
	}
	return stops
}

// entries returns where a stroke can be entered: every vertex of a closed one,
// both ends of an open one.
func entries(path geometry.Path) []geometry.Point {
	if !path.Closed {
		return []geometry.Point{path.Start, path.End()}
	}
	pts := make([]geometry.Point, len(path.Segments))
	pts[0] = path.Start
	for i, s := range path.Segments[:len(pts)-1] {
		pts[i+1] = s.End
	}
	return pts
}

// run returns a visit of a stop as a run of the step.
func (st *step) run(s *tour.Stop, at tour.Visit) Run {
	n := len(st.members)
	r := Run{Copy: at.Stop / n, Stroke: st.members[at.Stop%n], At: s.Entries[at.Entry]}
	if s.Closed {
		r.Start = at.Entry
	} else {
		r.Reversed = at.Entry == 1
	}
	return r
}

// renumbered returns the load with the numbers of another one like it.
func (l Load) renumbered(b *budget.Budget, load layout.Load) Load {
	out := Load{Number: load.Number, Passes: make([]Pass, len(l.Passes))}
	for i, pass := range l.Passes {
		b.Spend(len(pass.Runs))
		runs := make([]Run, len(pass.Runs))
		for k, r := range pass.Runs {
			r.Copy = load.Placements[r.Copy].Copy
			runs[k] = r
		}
		pass.Runs = runs
		out.Passes[i] = pass
	}
	return out
}
