package passes

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// timing follows the axis of the holder through a pass and adds up.
type timing struct {
	pass    *Pass
	blade   workshop.Blade
	m       workshop.Machine
	at      geometry.Point // of the axis
	heading geometry.Point // of the blade; zero where it is not known
}

// run adds one run that draws line: travel to it, lift and drop, and motion
// along the path of the axis, repeats and overcut included.
func (t *timing) run(r Run, line geometry.Path) {
	t.pass.Runs = append(t.pass.Runs, r)
	set := t.pass.Setting
	cuts := []geometry.Path{line}
	if set.Operation == artwork.Perforate {
		cuts = Dashes(line, set.DashMM, set.TieMM)
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
	axis := KnifePathFrom(cut, t.blade, t.heading, rounds)
	p := t.pass
	p.TravelMM += t.at.Dist(axis.Start)
	p.TravelS += TravelTime(t.at, axis.Start, t.m)
	p.Lifts++
	tip := cutLine(cut, t.blade.OvercutMM, rounds)
	p.CutMM += tip.Length()
	p.CutS += PathTime(axis, p.Setting.SpeedMMS, t.m)
	t.at = axis.End()
	if t.blade.OffsetMM > 0 {
		t.heading = endHeading(tip)
	}
	p.MotionS = p.CutS + p.TravelS + float64(p.Lifts)*t.m.LiftS
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
