package local_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// A circle costs the same minutes however it was written, as long as chord and arc
// are within 0.005 mm of each other: as two arcs, as four cubics (k = 0.5523, the
// usual approximation, 0.003 mm off at this radius), as 100 and as 400 chords. What
// is coarser costs more, and a finding says so. So do the seconds of the motion: arcs
// through rounded vertices meet at a hair of an angle, at which nothing stops.
func TestCircleCostsTheSame(t *testing.T) {
	const cubics = "M30 20C30 25.523 25.523 30 20 30C14.477 30 10 25.523 10 20C10 14.477 14.477 10 20 10C25.523 10 30 14.477 30 20Z"
	request, err := list.Choose(workshop.Example(), onCard)
	if err != nil {
		t.Fatal(err)
	}
	motion := func(data string) (seconds, minutes float64, slow bool) {
		r := desk{workshop.Example(), onCard}.run(t, cutting(data))
		p, e := list.Passes.In(r.results), list.Estimate.In(r.results)
		if p == nil || e == nil {
			t.Fatalf("no passes:%s", r)
		}
		cut := p.Loads[0].Passes[0] // less the way to it, which depends on where it begins
		way := passes.AxesOf(request.Machine).Travel()
		return cut.MotionS - way(geometry.Point{}, cut.LeadIn.From) - way(cut.LeadIn.To, cut.Runs[0].At), e.CutterMin.Likely, r.find(finding.SlowCurves) != nil
	}
	// Two arcs have two vertices to begin at and chords have many, of which one is met by
	// a blade that stands right: that saves a quarter turn of 0.25 mm at 20 mm/s.
	const turnS = math.Pi / 2 * 0.25 / 20
	arcS, arcMin, _ := motion("M30 20A10 10 0 0 1 10 20A10 10 0 0 1 30 20Z")
	for name, data := range map[string]string{"cubics": cubics, "100 chords": chords(100), "101 chords": chords(101), "400 chords": chords(400)} {
		s, min, slow := motion(data)
		if math.Abs(s-arcS) > 0.01*arcS+turnS || math.Abs(min-arcMin) > 0.01 || slow {
			t.Errorf("%s: %.3f s and %.3f min, as arcs %.3f s and %.3f min; said to be slow: %v", name, s, min, arcS, arcMin, slow)
		}
	}
	if s, _, slow := motion(chords(40)); s < 1.1*arcS || !slow {
		t.Errorf("40 chords: %.3f s, as arcs %.3f s; said to be slow: %v", s, arcS, slow)
	}
}
