package passes_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// What a knife does not cut cleanly is said, and of a pen nothing:
// curves below the offset of the blade, and dashes below four times it (common
// practice, no source).
func TestWhatAKnifeDoesNotCutCleanly(t *testing.T) {
	circle := func(op artwork.Operation, r float64) artwork.Stroke {
		return artwork.Stroke{Path: geometry.Circle(geometry.Pt(40, 40), r), Operation: op}
	}
	for _, tt := range []struct {
		name   string
		stroke artwork.Stroke
		offset float64
		want   []finding.Code
	}{
		{"a radius of the offset", circle(artwork.ThroughCut, 0.5), 0.5, nil},
		{"a smaller one", circle(artwork.ThroughCut, 0.49), 0.5, []finding.Code{finding.TightCurve}},
		{"a corner", square(artwork.ThroughCut, 0, 0, 40), 0.5, nil},
		{"a tight Bézier curve", stroke(t, artwork.ThroughCut, "M0 0C10 0 10 0.5 0 0.5"), 0.5, []finding.Code{finding.TightCurve}},
		{"a pen", circle(artwork.Pen, 0.1), 0.5, nil},
		{"a blade that scores", circle(artwork.Score, 0.1), 0.5, []finding.Code{finding.TightCurve}},
		{"dashes of four offsets", stroke(t, artwork.Perforate, "M0 0H80"), 0.5, nil},
		{"shorter ones", stroke(t, artwork.Perforate, "M0 0H80"), 0.51, []finding.Code{finding.ShortDash}},
	} {
		j := jobOn(t, "card-160-a4", 1, tt.stroke)
		j.req.Machine.Blade.OffsetMM = tt.offset
		if diff := cmp.Diff(tt.want, codes(t, j.order(t))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// Corners below the angle of the setting, 75° for heavy card, are told in stock from
// 0.25 mm on, unless the cutter lifts and turns the knife there (common practice, no
// source).
func TestSharpCornersInThickCard(t *testing.T) {
	wedge := stroke(t, artwork.ThroughCut, "M0 0H40L20 34.64Z") // three corners of 60°
	for _, tt := range []struct {
		name, stock string
		stroke      artwork.Stroke
		change      func(*job)
		corners     int
	}{
		{"a wedge", "card-220-a4", wedge, nil, 3},
		{"a square", "card-220-a4", square(artwork.ThroughCut, 0, 0, 40), nil, 0},
		{"thin card", "card-160-a4", wedge, nil, 0},
		{"a pen", "card-220-a4", stroke(t, artwork.Pen, "M0 0H40L20 34.64Z"), nil, 0},
		{"a cutter that turns the lifted knife", "card-220-a4", wedge, func(j *job) {
			j.req.Machine.TurnsLifted, j.req.Machine.Compensates = true, workshop.CompensatesAll
		}, 0},
		{"one that turns it and leaves the offset to the file", "card-220-a4", wedge, func(j *job) { j.req.Machine.TurnsLifted = true }, 3},
	} {
		j := jobOn(t, tt.stock, 1, tt.stroke)
		if tt.change != nil {
			tt.change(&j)
		}
		corners := 0
		for _, f := range j.order(t).Findings {
			if f.Code == finding.SharpCorner {
				if corners = f.Count; f.Values.Num("least_deg") != 60 || len(f.Places) != 3 {
					t.Errorf("%s: %+v", tt.name, f)
				}
			}
		}
		if corners != tt.corners {
			t.Errorf("%s: %d corners, want %d", tt.name, corners, tt.corners)
		}
	}
}

// Who makes up for the knife is asked where a knife is run and nobody said; the
// answer stands in the rule of each pass.
func TestWhoMakesUpForTheKnife(t *testing.T) {
	cut, pen := square(artwork.ThroughCut, 0, 0, 40), square(artwork.Pen, 5, 5, 10)
	for _, tt := range []struct {
		name            string
		stroke          artwork.Stroke
		machine         workshop.Compensation
		answer          string
		asked           bool
		offset, overcut bool // by the machine
	}{
		{"nobody said", cut, "", "", true, false, false},
		{"a pen", pen, "", "", false, false, false},
		{"the file, by the data", cut, workshop.CompensatesNothing, "", false, false, false},
		{"the offset, by the data", cut, workshop.CompensatesOffset, "", false, true, false},
		{"the offset, by the answer", cut, "", "offset", false, true, false},
		{"all, by the answer", cut, "", "offset_and_overcut", false, true, true},
		{"no such answer", cut, "", "perhaps", true, false, false},
		{"the data stand before an answer", cut, workshop.CompensatesNothing, "offset", false, false, false},
	} {
		j := jobOn(t, "card-160-a4", 1, tt.stroke)
		j.req.Machine.Compensates = tt.machine
		if tt.answer != "" {
			j.req.Replies = ask.Replies{passes.QuestionCompensation: {Answer: tt.answer}}
		}
		p := j.order(t)
		rule := p.Loads[0].Passes[0].Rule
		if (len(p.Questions) == 1) != tt.asked || rule.OffsetByMachine != tt.offset || rule.OvercutByMachine != tt.overcut {
			t.Errorf("%s: %d questions, rule %+v", tt.name, len(p.Questions), rule)
		}
		if file := rule.InFile(); tt.stroke.Operation == artwork.ThroughCut && ((file.OffsetMM == 0) != tt.offset || (file.OvercutMM == 0) != tt.overcut) {
			t.Errorf("%s: in the file %+v", tt.name, file)
		}
	}
}
