package replay

import (
	"iter"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/toolpath"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/passes"
)

// recorder goes through the moves of a load with a clock of its own.
type recorder struct {
	b      *budget.Budget
	out    *Replay
	load   *passes.Load
	axes   motion.Axes
	travel tour.Cost
	liftS  float64 // of lowering and lifting, half each
	roles  []Role  // by stroke
	thin   *thinning

	now  float64
	line *Line // that is being run
	down geometry.Path
}

// record fills in the replay from the moves.
func (r *recorder) record(moves iter.Seq[toolpath.Move]) {
	counts := make([]map[Role]int, len(r.load.Passes))
	for i := range r.load.Passes {
		p := &r.load.Passes[i]
		counts[i] = map[Role]int{}
		r.out.Passes = append(r.out.Passes, Pass{
			Number: i + 1, Operation: p.Operation, Tool: p.Tool(), Changed: p.Changed, PauseS: p.PauseS, DashMM: p.Rule.DashMM, TieMM: p.Rule.TieMM,
			FromS: math.Inf(1),
		})
	}
	for m := range moves {
		if m.Kind == toolpath.Travel {
			r.close()
			r.open(&m)
			counts[m.Pass][r.line.Role]++
		}
		p := &r.out.Passes[m.Pass]
		p.FromS = math.Min(p.FromS, r.now)
		r.take(&m)
		p.ToS = r.now
	}
	r.close()
	r.finish(counts)
}

// open begins a line at the travel to it.
func (r *recorder) open(m *toolpath.Move) {
	r.line = &Line{Pass: m.Pass + 1, Role: LeadIn, FromS: r.now}
	if m.Line >= 0 {
		run := r.load.Passes[m.Pass].Runs[m.Line]
		r.line.Copy, r.line.Role = run.Copy, r.roles[run.Stroke]
	}
}

// take lets the clock run on by a move.
func (r *recorder) take(m *toolpath.Move) {
	switch {
	case m.Kind == toolpath.Travel || m.Kind == toolpath.Tie || m.Kind == toolpath.Turn:
		r.now += r.travel(m.From, m.To())
	case m.Kind == toolpath.Lower:
		r.now += r.liftS / 2
		r.down.Start, r.down.Segments = m.From, r.down.Segments[:0]
	case m.Kind.Down():
		r.down.Segments = append(r.down.Segments, m.Axis)
		r.b.Spend(8) // as timing does
	case m.Kind == toolpath.Lift:
		r.run(r.load.Passes[m.Pass].Setting.SpeedMMS)
		r.now += r.liftS / 2
	}
}

// run marks where the axis is while the tool is down.
func (r *recorder) run(speed float64) {
	began := r.now
	if len(r.line.Marks) == 0 {
		r.line.DownS = began
	}
	for s, at := range r.axes.Along(r.b, r.down, speed).Marks() {
		r.b.Step()
		r.now = began + s
		r.line.Marks = append(r.line.Marks, Mark{at.X, at.Y, r.now})
	}
	if len(r.line.Marks) == 1 { // it stood
		r.line.Marks = append(r.line.Marks, r.line.Marks[0])
	}
	r.line.UpS = r.now
}

// close hands the line over that was run.
func (r *recorder) close() {
	if r.line == nil {
		return
	}
	r.out.Runs++
	r.thin.add(r.b, *r.line)
	r.line = nil
}

func (r *recorder) finish(counts []map[Role]int) {
	r.out.MotionS, r.out.Lines = r.now, r.thin.lines
	r.out.WithinMM, r.out.EachOf = r.thin.within+rounded, r.thin.eachOf
	for i := range r.out.Passes {
		p := &r.out.Passes[i]
		p.FromS = math.Min(p.FromS, p.ToS)
		for _, role := range Roles() {
			if n := counts[i][role]; n > 0 {
				p.Counts = append(p.Counts, Count{role, n})
			}
		}
	}
}
