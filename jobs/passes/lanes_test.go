package passes_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// By hand: copies cover a sheet of 200 mm from x = 20 on, and what is reached begins
// at 10: by the lanes of the rollers, or as the cutter is 180 mm wide. The blade is
// turned in the 10 mm between, and where these are covered too, nowhere.
func TestLeadInInTheStripThatIsLeft(t *testing.T) {
	covered := []geometry.Point{geometry.Pt(20, 1), geometry.Pt(118, 1), geometry.Pt(20, 99.5), geometry.Pt(118, 99.5)}
	for name, narrow := range map[string]func(j *job){
		"lanes":           func(j *job) { j.req.Stock.Hold = workshop.Rollers },
		"a narrow cutter": func(j *job) { j.req.Machine.WidthMM = 180 },
	} {
		j := on(t, workshop.Mat, 98, covered...)
		narrow(&j)
		lead := j.order(t).Loads[0].Passes[0].LeadIn
		if lead == nil {
			t.Errorf("%s: there is no lead-in", name)
			continue
		}
		if box := geometry.BoxAround(lead.From, lead.To); box.Min.X < 10 || box.Max.X > 20 {
			t.Errorf("%s: the lead-in is %v", name, lead)
		}
		j = on(t, workshop.Mat, 98, append(covered, geometry.Pt(-79, 1), geometry.Pt(-79, 99.5))...)
		narrow(&j)
		if lead := j.order(t).Loads[0].Passes[0].LeadIn; lead != nil {
			t.Errorf("%s: between copies that meet the lead-in is %v", name, lead)
		}
	}
}

// Who makes up for the knife matters where it trails, and where closures are cut
// past, and not where neither is.
func TestCompensationMattersForEither(t *testing.T) {
	for _, c := range []struct {
		offset, overcut float64
		asked           int
	}{{0.25, 0, 1}, {0, 1, 1}, {0.25, 1, 1}, {0, 0, 0}} {
		j := jobOn(t, "card-160-a4", 1, square(artwork.ThroughCut, 0, 0, 40))
		j.req.Machine.Compensates = ""
		j.req.Machine.Blade.OffsetMM, j.req.Machine.Blade.OvercutMM = c.offset, c.overcut
		if got := len(j.order(t).Questions); got != c.asked {
			t.Errorf("offset %v, overcut %v: %d questions, want %d", c.offset, c.overcut, got, c.asked)
		}
	}
}
