package passes_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// sent returns the box of what a file sends the machine to for the first load.
func sent(t *testing.T, j job, p *passes.Plan) geometry.Box {
	t.Helper()
	onto, _ := p.Axes.Onto(j.layout.Loads[0].WidthMM, j.layout.Loads[0].LengthMM)
	box := geometry.EmptyBox()
	for m := range p.Moves(nil, passes.Excerpt{InFile: true, Onto: onto}, j.strokes, j.layout) {
		if m.Kind.Down() && m.Line >= 0 {
			box = box.Union(geometry.Path{Start: m.From, Segments: []geometry.Segment{m.Axis}}.Transform(p.Sent()).Bounds())
		}
	}
	return box
}

// Where marks of 100 mm came out as 100.4 across the feed and 99.5 along it, a machine
// that leaves it to the file is sent 100/100.4 and 100/99.5 as far from its origin, so
// that what comes out is as drawn; one that corrects lengths itself, one of which nobody
// said, and one whose marks are right within 0.2 % are sent as ever. That it is off is
// always said. The passes stay those of the drawing.
func TestLengthsAreCorrectedOnce(t *testing.T) {
	off, right := &trial.Marks{AcrossMM: 100.4, AlongMM: 99.5}, &trial.Marks{AcrossMM: 100.2, AlongMM: 99.8}
	for _, axes := range []workshop.Axes{
		{}, {Feed: workshop.PlusX, Origin: workshop.LeadRight}, {Feed: workshop.MinusX, Origin: workshop.TailLeft},
		{Feed: workshop.PlusY, Origin: workshop.TailRight}, {Feed: workshop.MinusY, Origin: workshop.LeadRight},
	} {
		j := jobOn(t, "card-220-a4", 1, stroke(t, artwork.ThroughCut, "M0 0H60V40H0Z"), stroke(t, artwork.ThroughCut, "M15 20a5 5 0 1 0 10 0a5 5 0 1 0 -10 0Z"))
		j.req.Machine.Compensates, j.req.Machine.Axes = workshop.CompensatesAll, axes
		plain := sent(t, j, j.order(t))
		for _, c := range []struct {
			by        workshop.Corrector
			marks     *trial.Marks
			corrected bool
		}{{workshop.LengthsByFile, off, true}, {workshop.LengthsByMachine, off, false}, {"", off, false}, {workshop.LengthsByFile, right, false}, {workshop.LengthsByFile, nil, false}} {
			j.req.Machine.Lengths, j.req.Lengths = c.by, c.marks
			p := j.order(t)
			x, y := 1.0, 1.0
			if c.corrected {
				if x, y = 100/100.4, 100/99.5; axes.Feed == workshop.PlusX || axes.Feed == workshop.MinusX {
					x, y = y, x
				}
			}
			got := sent(t, j, p)
			for _, pair := range [][2]float64{{got.Min.X, plain.Min.X * x}, {got.Max.X, plain.Max.X * x}, {got.Min.Y, plain.Min.Y * y}, {got.Max.Y, plain.Max.Y * y}} {
				if math.Abs(pair[0]-pair[1]) > 1e-6 {
					t.Errorf("%v, %q, %v: sent to %v from %v", axes, c.by, c.marks, got, plain)
					break
				}
			}
			said := false
			for _, f := range p.Findings {
				said = said || f.Code == finding.LengthsOff
			}
			if said != (c.marks == off) {
				t.Errorf("%q, %v: said %v", c.by, c.marks, said)
			}
		}
	}
}
