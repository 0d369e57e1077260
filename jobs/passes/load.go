package passes

import (
	"encoding/binary"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// alike tells loads that are planned alike from others: the tool in the holder at
// the start, the map, and what shapeOf returns.
type alike struct {
	inHolder tool
	ownMap   int
	marked   bool // the first load, on which test marks are cut
	shape    string
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
// on the load, from 0, until renumbered gives them the copy's number. Its error is a
// fault of the program.
func orderLoad(b *budget.Budget, load layout.Load, strokes []artwork.Stroke, steps []step, inHolder tool, req Request) (Load, error) {
	out := Load{Number: load.Number}
	clock := newTiming(b, req.Machine)
	clock.walk.At = req.Machine.Axes.Rest(load.WidthMM, load.LengthMM)
	for _, st := range steps {
		noMark := false
		if st.marked(req) {
			mark := st.mark(b, load, req, clock.walk, len(out.Passes)+1, st.tool != inHolder)
			if noMark = mark == nil; !noMark {
				clock.take(len(out.Passes), mark, func(int) geometry.Path { return mark.Mark.Box.Path() })
				out.Passes, inHolder = append(out.Passes, *mark), st.tool
			}
		}
		pass := st.pass(len(out.Passes)+1, st.tool != inHolder, req.Machine)
		inHolder, pass.NoMark = st.tool, noMark
		pass.leadIn(clock.walk, leadIn(b, load, req, pass.Rule.InFile().OffsetMM))
		stops := st.stops(b, load, strokes, req.Stock.Form == workshop.Roll)
		visits := tour.Through(b, stops, clock.walk.At, clock.travel)
		g := beginner{&st, b, load, strokes, stops, visits, clock.travel, clock.axes.AccelMMS2}
		g.begin(clock.walk.At)
		for _, visit := range visits {
			pass.Runs = append(pass.Runs, st.run(&stops[visit.Stop], visit))
		}
		clock.take(len(out.Passes), &pass, func(k int) geometry.Path {
			run := pass.Runs[k]
			return run.line(strokes[run.Stroke].Path).Transform(load.Placements[run.Copy].Transform)
		})
		out.Passes = append(out.Passes, pass)
	}
	return out, out.holds(&clock.proof, load.Placements)
}

// pass returns the pass of the step on a load, without its runs.
func (st *step) pass(number int, changed bool, m workshop.Machine) Pass {
	p := Pass{Number: number, Operation: st.set.Operation, Setting: st.set, Blade: st.blade, Rule: st.rule, Changed: changed}
	if m.ForceStepGF > 0 {
		p.ForceSteps = int(math.Round(st.set.ForceGF / m.ForceStepGF))
	}
	if changed {
		p.PauseS = m.ToolChangeS
	}
	return p
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
