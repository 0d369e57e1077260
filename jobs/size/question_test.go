package size_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// told gathers all that a person reads of a result.
func told(res *size.Result) string {
	lines := []string{res.Why}
	for _, f := range res.Findings {
		lines = append(lines, f.Hint, f.TechnicianHint)
	}
	for _, q := range res.Questions {
		lines = append(lines, q.Text)
		for _, a := range q.Answers {
			lines = append(lines, a.ID+": "+a.Label+". "+a.Evidence)
		}
	}
	return strings.Join(lines, "\n")
}

// A straight line has one length: nothing is told or asked of the other extent.
// A frame drawn to measure that is no paper's is most likely right as the file reads; one
// at 97 % is not. Source: common practice, no source.
func TestPageOfNoPapersSizeIsFirstAskedAsItReads(t *testing.T) {
	for _, c := range []struct {
		w, h  float64
		first bool
	}{{250, 180, true}, {250.01, 179.99, true}, {203.7, 288.09, false}} {
		d := onLayer(stating(draw(t, 1, 1, frame(c.w, c.h), "M20 20H60V50H20Z"), "mm", 1), "PAGE")
		res := repair(t, d, size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}})
		ids := slices.DeleteFunc(answers(res), func(id string) bool { return strings.HasPrefix(id, "known_") })
		if len(ids) == 0 || (ids[0] == size.AnswerAsRead) != c.first {
			t.Errorf("%g × %g: answers %v", c.w, c.h, ids)
		}
	}
}

func TestStraightLineHasALength(t *testing.T) {
	for name, tt := range map[string]struct {
		d     *drawing.Drawing
		known string
	}{
		"flat":        {draw(t, 1, 1, "M20 50H120"), size.AnswerWidth},
		"upright":     {draw(t, 1, 1, "M20 50V150"), size.AnswerHeight},
		"nearly flat": {draw(t, 1, 1, "M20 50L120 50.02"), size.AnswerWidth},
		"two":         {draw(t, 1, 1, "M20 50H60", "M80 50H120"), size.AnswerWidth},
		"off stock":   {stating(draw(t, 1, 1, "M20 50H120"), "inch", 25.4), size.AnswerWidth},
		"in a frame":  {draw(t, 0.96, 0.96, a3Frame, "M20 50H120"), size.AnswerWidth},
		"header":      {stating(draw(t, 1, 1, "M20 50H120"), "mm", 1), ""},
	} {
		res := repair(t, tt.d, size.Request{Stock: cardA4})
		for _, bad := range []string{" 0 mm", " 0.00", " 0 as", " 0 draw", "wide", "high:"} {
			if text := told(res); strings.Contains(strings.ReplaceAll(text, "how wide", ""), bad) && name != "in a frame" {
				t.Errorf("%s: says %q:\n%s", name, bad, text)
			}
		}
		if tt.known == "" {
			continue
		}
		if strings.HasPrefix(res.Questions[0].Text, "How large") || !strings.Contains(res.Questions[0].Text, "length") || !strings.Contains(told(res), "100") {
			t.Errorf("%s:\n%s", name, told(res))
		}
		for _, id := range []string{size.AnswerWidth, size.AnswerHeight} {
			if got := slices.Contains(answers(res), id); got != (id == tt.known) {
				t.Errorf("%s: answers %v", name, answers(res))
			}
		}
		res = repair(t, tt.d, size.Request{Stock: cardA4, Replies: ask.Replies{size.QuestionID: {Answer: tt.known, MM: 80}}})
		if w := max(res.WidthMM, res.HeightMM); w < 79.99 || w > 80.01 {
			t.Errorf("%s: %g mm long, want 80", name, w)
		}
	}
	// A length of the extent that a line does not have settles nothing.
	res := repair(t, draw(t, 1, 1, "M20 50L120 50.0000001"), size.Request{KnownLength: &size.KnownLength{Of: size.Height, MM: 3}})
	asked(t, res, finding.SizeNoEvidence)
}

// The evidence for a frame that was stretched names the factor of each axis, in mm for one
// number of the file, whatever unit it states. By hand: 1 / 1.02 = 0.980392, and 25.4 times
// that is 24.902.
func TestEvidenceNamesEachAxis(t *testing.T) {
	for _, c := range []struct {
		unit   string
		mm     float64
		number float64 // units in one number of the file, as where an SVG in pixels has a view box in mm
		want   string
	}{{"", 1, 0, "Each axis gets a factor of its own: 0.980392 and 1 mm for one unit"}, {"mm", 1, 0, "Each axis gets a factor of its own: 0.980392 and 1 mm for one unit"},
		{"px", 25.4 / 96, 96 / 25.4, "Each axis gets a factor of its own: 0.980392 and 1 mm for one unit"},
		{"inch", 25.4, 0, "Each axis gets a factor of its own: 24.902 and 25.4 mm for one unit"}} {
		d := draw(t, 1.02/c.mm, 1/c.mm, a4Frame, box, roundHole)
		if c.unit != "" {
			d = stating(d, c.unit, c.mm)
			d.Unit.PerNumber = c.number
		}
		if first := repair(t, d, size.Request{Stock: cardA4}).Questions[0].Answers[0]; first.ID != "A4.per_axis" || !strings.Contains(first.Evidence, c.want) {
			t.Errorf("in %q: %s: %s", c.unit, first.ID, first.Evidence)
		}
	}
}

var cardA5 = workshop.Stock{ID: "card-a5", Family: workshop.HeavyCard, Form: workshop.Sheet, NamedSize: "A5", WidthMM: 148, LengthMM: 210}

const (
	roundHole   = "M60 71A20 20 0 0 1 100 71A20 20 0 0 1 60 71Z"
	label       = "M0 0H147.3V209.4H0Z" // near A5
	labelInside = "M20 20H120V60H20Z"
)

// A rectangle off the shape of a page is called stretched only where ellipses
// show it. Each reading is among the answers: stretched, edited, a piece.
func TestOffShape(t *testing.T) {
	unstated := draw(t, 1, 1, label, labelInside)
	for name, tt := range map[string]struct {
		d    *drawing.Drawing
		code finding.Code
	}{
		"no circle, no unit":  {unstated, finding.FrameOffShape},
		"no circle, mm":       {stating(draw(t, 1, 1, label, labelInside), "mm", 1), finding.FrameOffShape},
		"frame 2 % too wide":  {draw(t, 1, 1, "M0 0H214.2V297H0Z", box), finding.FrameOffShape},
		"circle as small":     {draw(t, 1.02, 1, a4Frame, box, "M60 71A.5 .5 0 0 1 61 71A.5 .5 0 0 1 60 71Z"), finding.FrameOffShape},
		"ellipse by as much":  {draw(t, 1.02, 1, a4Frame, box, roundHole), finding.FrameStretched},
		"circle stayed round": {draw(t, 1, 1, "M0 0H214.2V297H0Z", box, roundHole), finding.FrameEdited},
	} {
		res := repair(t, tt.d, size.Request{Stock: cardA4})
		asked(t, res, tt.code)
		if worst := finding.Worst(res.Findings); (worst == finding.Block) != (tt.code == finding.FrameStretched) {
			t.Errorf("%s: %s %v", name, worst, codes(res))
		}
		if tt.code == finding.FrameOffShape && strings.Contains(told(res), "was stretched one way") {
			t.Errorf("%s claims what nobody saw:\n%s", name, told(res))
		}
		perAxis := slices.ContainsFunc(answers(res), func(id string) bool { return strings.HasSuffix(id, ".per_axis") })
		if !perAxis || !slices.Contains(answers(res), size.AnswerPiece) || !slices.Contains(answers(res), size.AnswerFrame) {
			t.Errorf("%s: answers %v", name, answers(res))
		}
		if tt.code == finding.FrameOffShape && slices.Index(answers(res), size.AnswerPiece) != 1 {
			t.Errorf("%s: a piece is as likely as the other readings: %v", name, answers(res))
		}
	}
}

// Wherever a rectangle on no frame layer is taken for a frame and something is
// asked, one answer says that it is an edge of the piece, and it is cut then.
func TestPieceIsAlwaysAnAnswer(t *testing.T) {
	for name, tt := range map[string]struct {
		d    *drawing.Drawing
		req  size.Request
		code finding.Code
		w, h float64
	}{
		"off shape": {draw(t, 1, 1, label, labelInside), size.Request{Stock: cardA4}, finding.FrameOffShape, 147.3, 209.4},
		"by sheet":  {draw(t, 1, 1, label, labelInside), size.Request{Stock: cardA4, FrameIsSheet: true}, finding.FrameOffShape, 147.3, 209.4},
		"edited":    {draw(t, 1, 1, "M0 0H143V209H0Z", labelInside, "M60 41A15 15 0 0 1 90 41A15 15 0 0 1 60 41Z"), size.Request{Stock: cardA4}, finding.FrameEdited, 143, 209},
		"inexact":   {draw(t, 1, 1, "M0 0H595V842H0Z", "M85 113H473V289H85Z"), size.Request{}, finding.FrameInexact, 595, 842},
		"unnamed":   {draw(t, 0.437, 0.437, a4Frame, box), size.Request{}, finding.SizeUnnamedFactor, 210 * 0.437, 297 * 0.437},
		"ambiguous": {draw(t, 1, 1, frame(594, 841), box), size.Request{}, finding.SizeAmbiguous, 594, 841},
		"off stock": {stating(draw(t, 1, 1, frame(841, 1189), "M0 10H830V1100H0Z"), "mm", 1), size.Request{Stock: cardA4}, finding.SizeOffStock, 841, 1189},
	} {
		t.Run(name, func(t *testing.T) {
			res := repair(t, tt.d, tt.req)
			asked(t, res, tt.code)
			if !slices.Contains(answers(res), size.AnswerPiece) {
				t.Fatalf("answers %v", answers(res))
			}
			if slices.Contains(codes(res), finding.FrameTakenOut) {
				t.Error("says that the rectangle is not cut while it asks")
			}
			tt.req.Replies = ask.Replies{size.QuestionID: {Answer: size.AnswerPiece}}
			res = repair(t, tt.d, tt.req)
			settled(t, res, tt.w, tt.h, 1e-9)
			if len(res.FrameParts) > 0 {
				t.Errorf("frame parts %v are not cut", res.FrameParts)
			}
		})
	}
	d := draw(t, 1, 1, label, labelInside)
	d.Shapes[0].Layer = "PAGE"
	res := repair(t, d, size.Request{FrameLayers: []string{"page"}})
	if slices.Contains(answers(res), size.AnswerPiece) {
		t.Errorf("a rectangle on a frame layer is offered as a piece: %v", answers(res))
	}
}

// No reading is offered by which the work would be a speck or a landscape,
// but for the file's own, which says so.
func TestReadingsMakeSense(t *testing.T) {
	for name, d := range map[string]*drawing.Drawing{
		"A4 in metres, a dot on it":     stating(draw(t, 1, 1, frame(0.21, 0.297), "M0.1 0.1h0.0004v0.0003h-0.0004Z"), "m", 1000),
		"A6 of 1.3 m, or by any unit":   draw(t, 9.1, 9.1, frame(105, 148), "M10 10h1v1h-1Z"),
		"a speck without a unit":        draw(t, 0.001, 0.001, box),
		"kilometres of survey, in feet": stating(draw(t, 1000, 1000, box), "foot", 304.8),
	} {
		res := repair(t, d, size.Request{})
		if len(res.Questions) != 1 {
			t.Fatalf("%s: %d questions: %s", name, len(res.Questions), res.Why)
		}
		for _, a := range res.Questions[0].Answers {
			w := a.Values.Num("width_mm")
			h := a.Values.Num("height_mm")
			if long := max(w, h); !a.NeedsMM && a.ID != size.AnswerAsRead && (long < 2 || long > 5e4) {
				t.Errorf("%s: offers %s: %s", name, a.ID, a.Label)
			}
			if a.ID == size.AnswerAsRead && !strings.Contains(a.Evidence, "far too small or too large") && max(w, h) < 2 {
				t.Errorf("%s: %s", name, a.Evidence)
			}
		}
	}
}

// The unit that a file states is not said to disagree with a frame that has a
// paper's size in it, whatever else is asked.
func TestStatedUnitAgrees(t *testing.T) {
	res := repair(t, onLayer(stating(draw(t, 1, 1, frame(841, 1189), "M0 10H830V1100H0Z"), "mm", 1), "PAGE"), size.Request{Stock: cardA4})
	asked(t, res, finding.SizeOffStock)
	if slices.Contains(codes(res), finding.SizeUnitDisagrees) {
		t.Errorf("findings %v", codes(res))
	}
}

// A given size under which the rectangle has no paper's size leaves open what
// it is, whoever declared that frames are sheets.
func TestGivenSizeAsksForThePiece(t *testing.T) {
	piece := "M0 0H148.2V210.2H0Z"
	for name, req := range map[string]size.Request{
		"unit":       {Unit: "mm"},
		"scale":      {Scale: 1},
		"width":      {KnownLength: &size.KnownLength{Of: size.Width, MM: 100}},
		"convention": {Stock: cardA5, FrameIsSheet: true, Unit: "mm"},
		"reply":      {Stock: cardA5, FrameIsSheet: true, Replies: ask.Replies{size.QuestionID: {Answer: size.AnswerFrame, MM: 210.2}}},
	} {
		res := repair(t, draw(t, 1, 1, piece, labelInside), req)
		if len(res.Questions) != 1 || res.Questions[0].ID != size.PieceQuestionID {
			t.Errorf("%s: %d questions, %v", name, len(res.Questions), codes(res))
		}
	}
}

// Lengths are told in the numbers of the file, with their unit.
func TestNumbersAsInTheFile(t *testing.T) {
	// An SVG of 600mm for 600 numbers: a drawing unit is a pixel, a number 1 mm.
	inNumbers := func(d *drawing.Drawing, mm float64) *drawing.Drawing {
		per := mm * 96 / 25.4
		d = moved(d, geometry.Scale(per, per))
		d.Unit = drawing.Unit{Name: "px", MM: 25.4 / 96, Declared: true, Source: `width="600mm"`, PerNumber: per}
		return d
	}
	for name, tt := range map[string]struct {
		d    *drawing.Drawing
		want []string
		not  string
	}{
		"mm in a view box": {inNumbers(draw(t, 1, 1, "M0 0H201.6V285.12H0Z", box), 1),
			[]string{"201.6 × 285.12 mm as drawn", "137 mm in your file", "1.04167 mm for one unit of the file's numbers"}, "pixel"},
		"metres":   {stating(draw(t, 0.001, 0.001, "M0 0H201.6V285.12H0Z", box), "m", 1000), []string{"0.202 × 0.285 metres as drawn"}, "pixel"},
		"unitless": {draw(t, 1, 1, box), []string{"137 drawing units in your file", "137 × 62 drawing units"}, "pixels as drawn"},
		"points": {stating(draw(t, 1, 1, "M0 0H571.465V808.214H0Z", "M85 113H473V289H85Z"), "pt", 25.4/72),
			[]string{"571.465 × 808.214 points as drawn", "388 points in your file"}, "mm as drawn"},
		"odd units": {inNumbers(draw(t, 1, 1, box), 0.7), []string{"taken to be 95.9 × 43.4 mm"}, "pixel"},
	} {
		text := told(repair(t, tt.d, size.Request{}))
		for _, want := range tt.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, text)
			}
		}
		if strings.Contains(text, tt.not) {
			t.Errorf("%s says %q:\n%s", name, tt.not, text)
		}
	}
	res := repair(t, inNumbers(draw(t, 72/25.4, 72/25.4, a4Frame, box), 1), size.Request{Stock: cardA4})
	settled(t, res, 137, 62, 1e-9)
	if res.Cause != "points_read_as_mm" || !strings.Contains(res.Why, "595.276 × 841.89 mm as drawn") {
		t.Errorf("%s: %s", res.Cause, res.Why)
	}
}
