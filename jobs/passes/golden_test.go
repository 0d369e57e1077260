package passes_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// What people get of passes is what was looked at: tools, forces, order, where each line
// begins and which way it runs, lead-ins, marks, lengths and seconds, and what is found.
func TestPlansAreAsTheyWere(t *testing.T) {
	box := []artwork.Stroke{
		square(artwork.ThroughCut, 0, 0, 80), square(artwork.ThroughCut, 10, 10, 15), square(artwork.ThroughCut, 50, 10, 20),
		stroke(t, artwork.Score, "M5 40H75"), stroke(t, artwork.Perforate, "M40 45V78"), stroke(t, artwork.Pen, "M12 60C16 66 22 66 26 60"),
		{Path: geometry.Circle(geometry.Pt(60, 60), 8), Operation: artwork.ThroughCut},
	}
	film := []artwork.Stroke{
		{Path: geometry.Circle(geometry.Pt(20, 20), 12), Operation: artwork.KissCut}, {Path: geometry.Circle(geometry.Pt(20, 20), 6), Operation: artwork.KissCut},
		stroke(t, artwork.KissCut, "M40 8H70V32H40Z"), stroke(t, artwork.KissCut, "M80 8C95 0 95 40 80 32Z"), stroke(t, artwork.KissCut, "M32 20H40"),
		{Path: geometry.Box{Min: geometry.Pt(-5, -5), Max: geometry.Pt(100, 45)}.Path(), Operation: artwork.KissCut, Added: artwork.Border},
	}
	for _, c := range []struct {
		name, stock string
		copies      int
		strokes     []artwork.Stroke
		change      func(*job)
	}{
		{"box", "card-220-a4", 3, box, nil},
		{"film", "film-removable-610", 2, film, nil},
		{"film-by-a-blade-that-trails", "film-removable-610", 2, film, func(j *job) { j.req.Machine.Compensates = workshop.CompensatesNothing }},
		{"untrusted", "card-160-a4", 2, box[:3], func(j *job) {
			j.req.Machine.Compensates = workshop.CompensatesNothing
			for _, s := range j.req.Settings {
				j.req.Untrusted = append(j.req.Untrusted, s.ID)
			}
		}},
		{"too-hard-for-the-machine", "card-220-a4", 1, box, func(j *job) { j.req.Machine.MaxForceGF, j.req.Machine.MaxSpeedMMS = 100, 40 }},
	} {
		j := jobOn(t, c.stock, c.copies, c.strokes...)
		if c.change != nil {
			c.change(&j)
		}
		golden.Hold(t, c.name, retold(j.order(t)))
	}
}

// retold is a plan in lines, in mm and seconds to two decimals.
func retold(p *passes.Plan) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("cut %.2f, travel %.2f mm, %d lifts, arcs %t, %+.2f", p.CutMM, p.TravelMM, p.Lifts, p.Arcs, p.Time)
	for _, l := range p.Loads {
		for i := range l.Passes {
			s := &l.Passes[i]
			line("load %d pass %d: %s by %s at %.1f gf, %d steps, %.1f mm/s, %d ×; changed %t, pause %.1f s", l.Number, s.Number, s.Operation, s.Tool(),
				s.Setting.ForceGF, s.ForceSteps, s.Setting.SpeedMMS, s.Setting.Passes, s.Changed, s.PauseS)
			line("  rule %+v", s.Rule)
			if s.LeadIn != nil {
				line("  lead-in from %s to %s", pointText(s.LeadIn.From), pointText(s.LeadIn.To))
			}
			if s.LeadInAlone != nil {
				line("  lead-in alone from %s to %s", pointText(s.LeadInAlone.From), pointText(s.LeadInAlone.To))
			}
			if s.Mark != nil || s.NoMark {
				line("  mark %v, none for want of room %t", s.Mark, s.NoMark)
			}
			for _, r := range s.Runs {
				line("  copy %d line %d at %s from %d + %.3f, reversed %t, past %.2f and %.2f", r.Copy, r.Stroke, pointText(r.At), r.Start, r.Along, r.Reversed, r.BeforeMM, r.AfterMM)
			}
			line("  %d lines, cut %.2f, travel %.2f mm, %d lifts, %d turns, down %.2f, up %.2f, in all %.2f s", s.Lines(), s.CutMM, s.TravelMM, s.Lifts, s.Turns, s.CutS, s.TravelS, s.MotionS)
		}
	}
	for _, f := range p.Findings {
		line("found %s (%s) × %d: %v", f.Code, f.Severity, f.Count, f.Values)
	}
	for _, q := range p.Questions {
		line("asked %s", q.ID)
	}
	return b.String()
}

// pointText writes no zero as negative.
func pointText(p geometry.Point) string {
	return strings.ReplaceAll(fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y), "-0.00", "0.00")
}

// Marks may lie in what is removed, at the place to grip it, and never in what stays.
func TestSpotsLieInWhatIsRemoved(t *testing.T) {
	m := &weeding.Map{Regions: []weeding.Region{
		{Class: weeding.Kept, Pick: geometry.Pt(1, 1), PickRadiusMM: 9}, {Class: weeding.Counter, Pick: geometry.Pt(2, 3), PickRadiusMM: 7},
		{Class: weeding.Kept, Pick: geometry.Pt(4, 1), PickRadiusMM: 9}, {Class: weeding.Surround, Pick: geometry.Pt(5, 6), PickRadiusMM: 8}}}
	want := []passes.Spot{{At: geometry.Pt(2, 3), RadiusMM: 7}, {At: geometry.Pt(5, 6), RadiusMM: 8}}
	if diff := cmp.Diff(want, passes.SpotsOf(m)); diff != "" {
		t.Error(diff)
	}
}

// A score by the blade of the cut may press with 60 % of the cut's force, and with no more
// than the machine gives; a cut with what the machine gives.
func TestMostForce(t *testing.T) {
	j := jobOn(t, "card-220-a4", 1, square(artwork.ThroughCut, 0, 0, 80))
	cut := workshop.Setting{ID: "cut", Family: j.req.Stock.Family, Operation: artwork.ThroughCut, ForceGF: 100, SpeedMMS: 50}
	score := workshop.Setting{ID: "score", Family: j.req.Stock.Family, Operation: artwork.Score, ForceGF: 50, SpeedMMS: 50}
	j.req.Settings = []workshop.Setting{cut, score}
	for _, tt := range []struct {
		name       string
		set        workshop.Setting
		most, want float64
	}{{"score", score, 500, 60}, {"score on a weak machine", score, 40, 40}, {"score, no limit said", score, 0, 60}, {"cut", cut, 500, 500}} {
		j.req.Machine.MaxForceGF = tt.most
		if got := passes.MostForce(tt.set, j.req); got != tt.want {
			t.Errorf("%s: %g gf, want %g", tt.name, got, tt.want)
		}
	}
}
