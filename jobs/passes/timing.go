package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/toolpath"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/workshop"
)

// timing goes through the passes of a load, move by move, adds up, and proves that the
// tips stay on their lines.
type timing struct {
	b      *budget.Budget
	axes   motion.Timer
	travel tour.Cost // seconds with the knife up
	liftS  float64
	walk   toolpath.Walk
	proof  toolpath.Proof
	down   geometry.Path // of the axis, since the tool was lowered
}

// AxesOf returns what the axes of a machine can do.
func AxesOf(m workshop.Machine) motion.Axes {
	return motion.Axes{SpeedMMS: m.MaxSpeedMMS, TravelMMS: m.TravelMMS, AccelMMS2: m.AccelMMS2}
}

func newTiming(b *budget.Budget, m workshop.Machine) *timing {
	axes := AxesOf(m)
	return &timing{b: b, axes: motion.Timer{Axes: axes}, travel: axes.Travel(), liftS: m.LiftS}
}

// take adds up the moves of a pass, whose lines are those of its runs, as the
// machine makes them: what it adds to a file by itself included.
func (t *timing) take(number int, p *Pass, line func(int) geometry.Path) {
	path := p.path(line)
	for m := range t.walk.Pass(t.b, number, &path) {
		t.proof.See(t.b, &m, p.Rule.OffsetMM)
		switch {
		case m.Kind == toolpath.Travel || m.Kind == toolpath.Tie || m.Kind == toolpath.Turn:
			if m.Kind == toolpath.Turn {
				p.Turns++
			}
			p.TravelMM += m.From.Dist(m.To())
			p.TravelS += t.travel(m.From, m.To())
		case m.Kind == toolpath.Lower:
			t.down.Start, t.down.Segments = m.From, t.down.Segments[:0]
		case m.Kind.Down():
			t.down.Segments = append(t.down.Segments, m.Axis)
			t.b.Spend(8) // measuring a curve takes about a microsecond
			p.CutMM += m.CutMM()
		case m.Kind == toolpath.Lift:
			p.Lifts++
			p.CutS += t.axes.PathTime(t.b, t.down, p.Setting.SpeedMMS)
		}
	}
	p.MotionS = p.CutS + p.TravelS + float64(p.Lifts)*t.liftS
}

// add appends a load and takes its time.
func (p *Plan) add(l Load, m workshop.Machine) {
	p.Loads = append(p.Loads, l)
	p.Time.LoadS += m.LoadS
	p.Time.UnloadS += m.UnloadS
	for _, pass := range l.Passes {
		p.CutMM += pass.CutMM
		p.TravelMM += pass.TravelMM
		p.Lifts += pass.Lifts
		p.Time.CutS += pass.CutS
		p.Time.TravelS += pass.TravelS
		p.Time.LiftS += float64(pass.Lifts) * m.LiftS
		p.Time.PauseS += pass.PauseS
	}
}
