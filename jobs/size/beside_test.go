package size_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
)

// What lies beside the frame, behind an empty band of a hundredth of its longer side
// (2.97 mm for A4), is asked about; the plate is 137 × 62 mm. Distances and sizes by hand.
func TestWhatLiesBesideTheFrameIsAskedAbout(t *testing.T) {
	type sizes struct{ w, h float64 }
	plate := sizes{137, 62}
	for name, tt := range map[string]struct {
		drawn       []string
		text        string // of the question; empty: it is not asked
		left, whole sizes
	}{
		"to the right":          {[]string{box, "M240 50H250V60H240Z"}, "1 line lies to the right of the frame of your drawing, 30 mm away", plate, sizes{220, 62}},
		"above, two":            {[]string{box, "M40 350H50V360H40Z", "M60 350H70V360H60Z"}, "2 lines lie above the frame of your drawing, 53 mm away", plate, sizes{137, 320}},
		"to the left":           {[]string{box, "M-20 50H-10V60H-20Z"}, "1 line lies to the left of the frame of your drawing, 10 mm away", plate, sizes{187, 62}},
		"below and above":       {[]string{box, box, "M40 -20H50V-10H40Z", "M40 350H50V360H40Z"}, "2 lines lie beside the frame of your drawing, 10 mm away", plate, sizes{137, 380}},
		"3.1 mm away":           {[]string{box, "M213.1 50H220V60H213.1Z"}, "3.1 mm away", plate, sizes{190, 62}},
		"2.9 mm away":           {[]string{box, "M212.9 50H220V60H212.9Z"}, "", sizes{}, sizes{190, 62}},
		"sticks out":            {[]string{box, "M200 50H220V60H200Z"}, "", sizes{}, sizes{190, 62}},
		"joins what sticks out": {[]string{box, box, "M200 50H230V60H200Z", "M232 50H240V60H232Z"}, "", sizes{}, sizes{210, 62}},
		"all of it":             {[]string{"M240 50H250V60H240Z"}, "", sizes{}, sizes{10, 10}},
	} {
		t.Run(name, func(t *testing.T) {
			d := onLayer(stating(draw(t, 1, 1, append([]string{a4Frame}, tt.drawn...)...), "mm", 1), "PAGE")
			req := size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}}
			res := repair(t, d, req)
			if tt.text == "" {
				settled(t, res, tt.whole.w, tt.whole.h, 1e-9)
				return
			}
			if len(res.Questions) != 1 || res.Questions[0].ID != size.BesideQuestionID || !strings.Contains(res.Questions[0].Text, tt.text) {
				t.Fatalf("%+v", res.Questions)
			}
			answers := res.Questions[0].Answers
			if a := answers[0]; a.ID != size.AnswerLeaveOut || (sizes{a.WidthMM, a.HeightMM}) != tt.left {
				t.Errorf("%+v", a)
			}
			if a := answers[1]; a.ID != size.AnswerCutToo || (sizes{a.WidthMM, a.HeightMM}) != tt.whole {
				t.Errorf("%+v", a)
			}
			req.Replies = ask.Replies{size.BesideQuestionID: {Answer: size.AnswerLeaveOut}}
			res = repair(t, d, req)
			settled(t, res, tt.left.w, tt.left.h, 1e-9)
			for _, part := range res.LeftOut {
				if geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(210, 297)).Overlaps(d.Shapes[part.Shape].Paths[part.Path].Bounds()) {
					t.Errorf("%v is left out", part)
				}
			}
			if slices.Contains(codes(res), finding.FrameOverhang) || len(res.LeftOut) == 0 {
				t.Errorf("%v, left out %v", codes(res), res.LeftOut)
			}
			req.Replies = ask.Replies{size.BesideQuestionID: {Answer: size.AnswerCutToo}}
			settled(t, repair(t, d, req), tt.whole.w, tt.whole.h, 1e-9)
		})
	}
}

// A width that was given is that of the work which is cut: of a plate of 137 × 62 and of a
// square that makes both 220 wide together, 60 mm are one or the other.
func TestGivenWidthIsOfWhatIsCut(t *testing.T) {
	d := onLayer(draw(t, 1, 1, a4Frame, box, "M240 50H250V60H240Z"), "PAGE")
	req := size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}, KnownLength: &size.KnownLength{Of: size.Width, MM: 60}}
	for answer, high := range map[string]float64{size.AnswerLeaveOut: 62 * 60.0 / 137, size.AnswerCutToo: 62 * 60.0 / 220} {
		req.Replies = ask.Replies{size.BesideQuestionID: {Answer: answer}}
		settled(t, repair(t, d, req), 60, high, 1e-9)
	}
}

// Where the size is open too, what lies beside a frame on its layer is asked about first:
// how large the work is hangs on it. The frame of A4 is drawn at 93.7 % of its size, which
// no cause explains; the plate is 137 × 62 mm, and the square beside it ends at 250 mm.
func TestBesideTheFrameBeforeTheSize(t *testing.T) {
	d := onLayer(stating(draw(t, 0.937, 0.937, a4Frame, box, "M240 50H250V60H240Z"), "mm", 1), "PAGE")
	for answer, w := range map[string]float64{size.AnswerLeaveOut: 137, size.AnswerCutToo: 220} {
		req := size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}}
		res := repair(t, d, req)
		if len(res.Questions) != 1 || res.Questions[0].ID != size.BesideQuestionID || slices.Contains(codes(res), finding.SizeUnnamedFactor) {
			t.Fatalf("%+v", res.Questions)
		}
		for _, a := range res.Questions[0].Answers {
			if a.WidthMM > 0 || a.TellsSize() {
				t.Errorf("it tells a size that is open: %+v", a)
			}
		}
		req.Replies = ask.Replies{size.BesideQuestionID: {Answer: answer}}
		res = repair(t, d, req)
		asked(t, res, finding.SizeUnnamedFactor)
		first := res.Questions[0].Answers[0]
		if near := first.WidthMM - w; near > 1e-6 || near < -1e-6 {
			t.Errorf("%s: the first answer about the size is %+v", answer, first)
		}
		req.Replies[size.QuestionID] = ask.Reply{Answer: first.ID}
		settled(t, repair(t, d, req), w, 62, 1e-6)
	}
}

// Where the layer does not say that it is a frame, the answer about the size does, and
// what lies beside it is asked about then.
func TestBesideTheFrameAfterTheSize(t *testing.T) {
	d := stating(draw(t, 0.937, 0.937, a4Frame, box, "M40 50H50V60H40Z", "M60 50H70V60H60Z", "M240 50H250V60H240Z"), "mm", 1)
	d.Shapes[0].Layer = "0"
	req := size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}}
	res := repair(t, d, req)
	asked(t, res, finding.SizeUnnamedFactor)
	req.Replies = ask.Replies{size.QuestionID: {Answer: "A4.unnamed"}}
	res = repair(t, d, req)
	if len(res.Questions) != 1 || res.Questions[0].ID != size.BesideQuestionID || res.Questions[0].Answers[0].WidthMM == 0 {
		t.Fatalf("%+v", res.Questions)
	}
	req.Replies[size.BesideQuestionID] = ask.Reply{Answer: size.AnswerLeaveOut}
	settled(t, repair(t, d, req), 137, 62, 1e-6)
}
