package passes

import (
	"fmt"
	"math"

	"knifedesk/geometry"
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
// as a machine without speed, are a *RequestError.
func Order(strokes []artwork.Stroke, laid *layout.Layout, req Request) (*Plan, error) {
	if err := check(strokes, laid, req); err != nil {
		return nil, err
	}
	p := &Plan{}
	p.checkMachine(strokes, laid, req)
	steps := p.steps(strokes, req)
	if len(steps) == 0 {
		return p, nil
	}
	inHolder := steps[0].tool
	cache := map[string]Load{}
	for _, load := range laid.Loads {
		key := fmt.Sprint(inHolder, shapeOf(load))
		done, ok := cache[key]
		if !ok {
			done = orderLoad(load, strokes, steps, inHolder, req)
			cache[key] = done
		}
		p.add(done.renumbered(load), req.Machine)
		inHolder = steps[len(steps)-1].tool
	}
	return p, nil
}

// step is one operation with its setting: a pass on every load.
type step struct {
	set     workshop.Setting
	tool    tool
	blade   workshop.Blade
	members []int // strokes, by number
	rules   sequence
}

// steps returns the operations that occur, in the fixed order. One without a
// setting is a finding and is left out.
func (p *Plan) steps(strokes []artwork.Stroke, req Request) []step {
	var all []step
	for _, op := range artwork.Operations() {
		st := step{}
		var own []artwork.Stroke
		for i := range strokes {
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
		st.rules = sequenceOf(own, op)
		all = append(all, st)
	}
	return all
}

// shapeOf tells loads with the same placements apart from others.
func shapeOf(load layout.Load) []geometry.Affine {
	all := make([]geometry.Affine, len(load.Placements))
	for i, p := range load.Placements {
		all[i] = p.Transform
	}
	return all
}

// orderLoad plans the passes of one load. Its runs carry the place of a copy
// on the load, from 0, until renumbered gives them the copy's number.
func orderLoad(load layout.Load, strokes []artwork.Stroke, steps []step, inHolder tool, req Request) Load {
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
		stops := st.stops(load, strokes, req.Stock.Form == workshop.Roll)
		order, entry := visit(stops, at, req.Machine)
		clock := timing{pass: &pass, blade: st.blade, m: req.Machine, at: at, heading: heading}
		for _, s := range order {
			run := stops[s].run(entry[s])
			placed := load.Placements[run.Copy]
			clock.run(run, run.line(strokes[run.Stroke].Path).Transform(placed.Transform))
		}
		at, heading = clock.at, clock.heading
		out.Passes = append(out.Passes, pass)
	}
	return out
}

// stops returns the strokes of the step on all copies of a load.
func (st *step) stops(load layout.Load, strokes []artwork.Stroke, roll bool) []stop {
	n := len(st.members)
	stops := make([]stop, 0, n*len(load.Placements))
	for c, placed := range load.Placements {
		for i, number := range st.members {
			path := strokes[number].Path.Transform(placed.Transform)
			s := stop{copy: c, stroke: number, closed: path.Closed, entries: entries(path)}
			if st.set.Operation == artwork.ThroughCut {
				s.phase = st.rules.tier[i]
			}
			if roll {
				s.phase = int(math.Max(0, math.Floor(path.Bounds().Max.Y/feedBand)))
			}
			for _, later := range st.rules.after[i] {
				s.after = append(s.after, c*n+later)
			}
			stops = append(stops, s)
		}
	}
	connect(stops)
	return stops
}

// connect fills in before, and pulls a stop into the phase of the earliest one
// that has to come after it.
func connect(stops []stop) {
	for changed := true; changed; {
		changed = false
		for i := range stops {
			for _, later := range stops[i].after {
				if stops[later].phase < stops[i].phase {
					stops[i].phase, changed = stops[later].phase, true
				}
			}
		}
	}
	for i := range stops {
		for _, later := range stops[i].after {
			stops[later].before = append(stops[later].before, i)
		}
	}
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

// run returns the stop as a run from the given entry.
func (s stop) run(entry int) Run {
	r := Run{Copy: s.copy, Stroke: s.stroke, At: s.entries[entry]}
	if s.closed {
		r.Start = entry
	} else {
		r.Reversed = entry == 1
	}
	return r
}

// renumbered returns the load with the numbers of another one like it.
func (l Load) renumbered(load layout.Load) Load {
	out := Load{Number: load.Number, Passes: make([]Pass, len(l.Passes))}
	for i, pass := range l.Passes {
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
