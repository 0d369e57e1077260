package view_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// fileSeconds is how long a pass of a file takes: its lines one after the other from the
// place where the last pass has left the axis, each with a lift and the travel to it by
// the longer of both ways, from rest to rest (rows 48 and 49 of the check values).
func fileSeconds(m workshop.Machine, at geometry.Point, speed float64, lines []geometry.Path) (s float64, end geometry.Point) {
	for _, l := range lines {
		way := math.Max(math.Abs(l.Start.X-at.X), math.Abs(l.Start.Y-at.Y))
		if v, a := m.TravelMMS, m.AccelMMS2; way >= v*v/a {
			s += way/v + v/a
		} else {
			s += 2 * math.Sqrt(way/a)
		}
		s += m.LiftS + passes.AxesOf(m).PathTime(nil, l, speed)
		at = l.End()
	}
	return s, at
}

// One object is timed, priced, listed, played and written: the seconds of the lines of
// the downloaded file are those of the passes, the replay takes as long, and the minutes
// of plan, summary and worksheet are their sum. For all purposes, on two machines.
func TestMinutesAreThoseOfTheFile(t *testing.T) {
	for i, c := range []struct {
		stock   string
		purpose weeding.Purpose
	}{{"card-220-a4", weeding.Pieces}, {"film-removable-610", weeding.Lettering}, {"stencil-a3", weeding.Stencil}} {
		for _, machine := range []string{"narrow-305", "wide-610"} {
			t.Run(string(c.purpose)+" "+machine, func(t *testing.T) {
				e := errand{file: worked, shop: offsetIn(neutral(), 0.5)}
				if i > 0 {
					e.file = onFilm
				}
				e.choices = plan.Choices{Stock: c.stock, Purpose: c.purpose, Copies: 3, Machine: machine}
				p := planOfErrand(t, e)
				if p == nil {
					t.Fatal("no plan comes of it")
				}
				p.holdMinutes(t)
			})
		}
	}
}

func (p *planned) holdMinutes(t *testing.T) {
	t.Helper()
	p.holdTime(t)
	motion := 0.0
	for load, one := range p.Passes.Loads {
		var at geometry.Point
		seconds := 0.0
		for i, r := range readDXF(t, loadFile(t, p, load+1, view.AllPasses, view.DXF)) {
			seconds, at = fileSeconds(p.request.Machine, at, one.Passes[i].Setting.SpeedMMS, r.lines)
			if want := one.Passes[i].MotionS; math.Abs(seconds/want-1) > 0.002 {
				t.Errorf("load %d, pass %d takes %.3f s by its file, %.3f by the plan", load+1, i+1, seconds, want)
			}
			motion += one.Passes[i].MotionS
		}
		list, err := p.ListPasses(load + 1)
		if err != nil || len(list.Passes) != len(one.Passes) {
			t.Fatalf("load %d: the list has %+v, %v", load+1, list, err)
		}
	}
	tm := p.Passes.Time
	if got := tm.CutS + tm.TravelS + tm.LiftS; math.Abs(got-motion) > 1e-6*motion {
		t.Errorf("the passes take %g s, the plan %g", motion, got)
	}
	minutes := (motion + tm.LoadS + tm.TestS + tm.PauseS + tm.UnloadS) / 60
	if got := p.Estimate.CutterMin.Likely; math.Abs(got-minutes) > 0.0051 {
		t.Errorf("%g min are told, it takes %g", got, minutes)
	}
	gathered := 0.0
	for _, pass := range view.Gather(p.status, p.request, nil, p.parts).Passes {
		gathered += pass.MotionS
	}
	if math.Abs(gathered-motion) > 1e-6*motion {
		t.Errorf("the passes of the plan that is read take %g s, want %g", gathered, motion)
	}
	told := fmt.Sprintf("%.0f", p.Estimate.CutterMin.Likely)
	page := strings.Join(strings.Fields(printOf(t, p).pages[0].raw), " ")
	if !strings.Contains(page, told+" min") || !strings.Contains(p.text(), told+" min") {
		t.Errorf("worksheet or summary do not tell %s min:\n%s\n%s", told, page, p.text())
	}
}
