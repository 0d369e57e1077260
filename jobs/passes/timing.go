package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// timing follows the axis of the holder through a pass and adds up.
type timing struct {
	b       *budget.Budget
	pass    *Pass
	blade   knife.Blade
	axes    motion.Axes
	travel  tour.Cost // seconds with the knife up
	liftS   float64
	at      geometry.Point // of the axis
	heading geometry.Point // of the blade; zero where it is not known
}

func newTiming(b *budget.Budget, pass *Pass, blade knife.Blade, m workshop.Machine, at, heading geometry.Point) *timing {
	axes := motion.Axes{SpeedMMS: m.MaxSpeedMMS, TravelMMS: m.TravelMMS, AccelMMS2: m.AccelMMS2}
	return &timing{b: b, pass: pass, blade: blade, axes: axes, travel: axes.Travel(), liftS: m.LiftS, at: at, heading: heading}
}

// run adds one run that draws line: travel to it, lift and drop, and motion
// along the path of the axis, repeats and overcut included.
func (t *timing) run(r Run, line geometry.Path) {
	t.pass.Runs = append(t.pass.Runs, r)
	set := t.pass.Setting
	cuts := []geometry.Path{line}
	if set.Operation == artwork.Perforate {
		cuts = knife.Dashes(t.b, line, set.DashMM, set.TieMM)
	}
	for _, cut := range cuts {
		if cut.Closed {
			t.stroke(cut, set.Passes)
			continue
		}
		for range set.Passes {
			t.stroke(cut, 1)
		}
	}
}

// stroke runs one cut from drop to lift.
func (t *timing) stroke(cut geometry.Path, rounds int) {
	axis := t.blade.Axis(t.b, cut, t.heading, rounds)
	p := t.pass
	p.TravelMM += t.at.Dist(axis.Start)
	p.TravelS += t.travel(t.at, axis.Start)
	p.Lifts++
	tip := t.blade.CutLine(t.b, cut, rounds)
	p.CutMM += t.length(tip)
	p.CutS += t.axes.PathTime(t.b, axis, p.Setting.SpeedMMS)
	t.at = axis.End()
	if t.blade.OffsetMM > 0 {
		t.heading = knife.EndHeading(tip)
	}
	p.MotionS = p.CutS + p.TravelS + float64(p.Lifts)*t.liftS
}

// length is line.Length() in steps.
func (t *timing) length(line geometry.Path) float64 {
	sum, from := 0.0, line.Start
	for _, s := range line.Segments {
		t.b.Spend(8) // measuring a curve takes about a microsecond
		sum += s.Length(from)
		from = s.End
	}
	return sum
}

// add appends a load and takes its time.
func (p *Plan) add(l Load, m workshop.Machine) {
	p.Loads = append(p.Loads, l)
	p.Time.LoadS += m.LoadS
	p.Time.TestS += m.TestS
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
