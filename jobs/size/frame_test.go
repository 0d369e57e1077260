package size_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/number"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// turned returns d turned by degrees about the origin.
func turned(d *drawing.Drawing, degrees float64) *drawing.Drawing {
	return moved(d, geometry.Rotate(degrees*math.Pi/180))
}

func moved(d *drawing.Drawing, m geometry.Affine) *drawing.Drawing {
	out := *d
	out.Shapes = slices.Clone(d.Shapes)
	for i := range out.Shapes {
		paths := slices.Clone(out.Shapes[i].Paths)
		for k := range paths {
			paths[k] = paths[k].Transform(m)
		}
		out.Shapes[i].Paths = paths
	}
	return &out
}

// wholes are shapes of one segment, which is meant.
func wholes(shapes ...int) (all []size.Part) {
	for _, i := range shapes {
		all = append(all, size.Part{Shape: i, Segments: []int{0}})
	}
	return all
}

// Rows of the fault table on frames: each drawing is accepted with the mend named.
func TestFramesAsDrawn(t *testing.T) {
	const k = 72 / 25.4
	tests := []struct {
		name  string
		d     *drawing.Drawing
		code  finding.Code
		parts []size.Part
	}{
		{"rotated", turned(draw(t, k, k, a4Frame, "M85 80A20 20 0 0 1 125 80A20 20 0 0 1 85 80Z"), 17), finding.FrameTurned, []size.Part{{Shape: 0}}},
		{"doubled", draw(t, k, k, a4Frame, "M65 60H105V100H65Z", "M210 297V0H0V297Z"), finding.FrameDoubled, []size.Part{{Shape: 0}, {Shape: 2}}},
		{"loose", draw(t, k, k, "M0 0H210", "M210 297V0.1", "M210 297H0", "M65 60H105V100H65Z", "M0 0.1V296.95"), finding.FrameLoose,
			[]size.Part{{Shape: 0, Segments: []int{0}}, {Shape: 1, Segments: []int{0}}, {Shape: 2, Segments: []int{0}}, {Shape: 4, Segments: []int{0}}}},
		{"two angles", draw(t, k, k, "M0 297V0H210", "M210 0V297H0", "M65 60H105V100H65Z"), finding.FrameLoose,
			[]size.Part{{Shape: 0, Segments: []int{0, 1}}, {Shape: 1, Segments: []int{0, 1}}}},
		{"sides split and overlapping", draw(t, k, k, "M0 0H30", "M30 0H60", "M90 0H60", "M210 0H90", "M210 0V150", "M210 297V140", "M210 297H0", "M0 297V200", "M0 80V200", "M0 0V80", "M65 60H105V100H65Z"), finding.FrameLoose,
			wholes(0, 1, 2, 3, 4, 5, 6, 7, 8, 9)},
		{"not closed", draw(t, k, k, "M100 0H210V297H0V0H100", "M65 60H105V100H65Z"), finding.FrameLoose, nil},
		{"points on the sides", draw(t, k, k, "M100 0H210V297H150H20H0V0Z", "M65 60H105V100H65Z"), finding.FrameTakenOut, []size.Part{{Shape: 0}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			res := repair(t, tt.d, size.Request{Stock: cardA4})
			settled(t, res, 40, 40, 1e-6)
			if !slices.Contains(codes(res), tt.code) {
				t.Errorf("findings %v, want %s", codes(res), tt.code)
			}
			if res.Cause != "points_read_as_mm" || res.Frame.Name != "A4" {
				t.Errorf("%s, frame %s", res.Cause, res.Frame.Name)
			}
			if tt.parts != nil && !reflect.DeepEqual(res.FrameParts, tt.parts) {
				t.Errorf("frame parts %v, want %v", res.FrameParts, tt.parts)
			}
		})
	}
}

// onLayer puts the first shape of d, its frame, on a layer of its own.
func onLayer(d *drawing.Drawing, layer string) *drawing.Drawing {
	d.Shapes[0].Layer = layer
	return d
}

// What is no frame stays in the cut.
func TestNotAFrame(t *testing.T) {
	tests := map[string][]string{
		"rounded corners":   {"M5 0H195A5 5 0 0 1 200 5V292A5 5 0 0 1 195 297H5A5 5 0 0 1 0 292V5A5 5 0 0 1 5 0Z", box},
		"alone":             {a4Frame},
		"beside the work":   {"M300 0H510V297H300Z", box, "M40 200H60V230H40Z"},
		"plate to measure":  {"M0 0H180V120H0Z", "M20 20H60V60H20Z"},
		"plate of 100 × 70": {"M0 0H100V70H0Z", "M20 20H60V60H20Z"},
	}
	for name, ds := range tests {
		res := repair(t, stating(draw(t, 1, 1, ds...), "mm", 1), size.Request{})
		if len(res.Questions) > 0 || res.Frame != nil || len(res.FrameParts) > 0 {
			t.Errorf("%s: frame %+v, %d questions", name, res.Frame, len(res.Questions))
		}
	}
}

func TestEditedFrame(t *testing.T) {
	hole := "M60 71A20 20 0 0 1 100 71A20 20 0 0 1 60 71Z"
	for name, f := range map[string]string{
		"side missing":  "M0 0H210V297H0",
		"corner off":    "M0 0H210V297L4 293Z",
		"side moved":    "M0 0H203.3V297H0Z",
		"slight corner": "M0 0H210V297L0.4 297Z",
	} {
		for _, req := range []size.Request{{Stock: cardA4}, {Stock: cardA4, Frame: "A4"}, {Stock: cardA4, FrameLayers: []string{"page*"}}} {
			d := stating(draw(t, 1, 1, f, box, hole), "mm", 1)
			if req.FrameLayers != nil {
				d.Shapes[0].Layer = "PAGE 1"
			}
			res := repair(t, d, req)
			asked(t, res, finding.FrameEdited)
			req.Replies = ask.Replies{size.QuestionID: {Answer: size.AnswerWidth, MM: 137}}
			res = repair(t, d, req)
			if math.Abs(res.WidthMM-137) > 1e-9 || math.Abs(res.X-1) > 1e-9 {
				t.Errorf("%s: %g mm, factor %g", name, res.WidthMM, res.X)
			}
		}
	}
}

func TestFrameLayer(t *testing.T) {
	d := draw(t, 0.7, 0.7, a4Frame, box, "M5 5H20")
	d.Shapes[0].Layer, d.Shapes[2].Layer = "Page", "PAGE"
	res := repair(t, d, size.Request{Stock: cardA4, Frame: "A4", FrameLayers: []string{"page"}})
	settled(t, res, 137, 62, 1e-9)
	if want := []size.Part{{Shape: 0}, {Shape: 2}}; !reflect.DeepEqual(res.FrameParts, want) {
		t.Errorf("frame parts %v, want %v", res.FrameParts, want)
	}
}

func TestOverhangWarns(t *testing.T) {
	d := draw(t, 1, 1, a4Frame, "M180 40H230V80H180Z", "M20 20H60V60H20Z")
	res := repair(t, d, size.Request{Stock: cardA4})
	settled(t, res, 210, 60, 1e-9)
	at := slices.Index(codes(res), finding.FrameOverhang)
	if at < 0 || res.Findings[at].Severity != finding.Warn || res.Findings[at].Count != 1 {
		t.Errorf("findings %v", codes(res))
	}
	res = repair(t, draw(t, 1, 1, a4Frame, "M180 40H210V80H180Z"), size.Request{Stock: cardA4})
	if slices.Contains(codes(res), finding.FrameOverhang) {
		t.Error("work that touches the frame does not overhang it")
	}
}

func TestBorderOnFrameAsks(t *testing.T) {
	d := draw(t, 1, 1, a4Frame, a4Frame, box)
	d.Shapes[0].Layer = "PAGE"
	req := size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}}
	res := repair(t, d, req)
	if len(res.Questions) != 1 || res.Questions[0].ID != size.BorderQuestionID {
		t.Fatalf("questions %+v", res.Questions)
	}
	for answer, parts := range map[string]int{size.AnswerFrameOnly: 2, size.AnswerCutBorder: 1} {
		req.Replies = ask.Replies{size.BorderQuestionID: {Answer: answer}}
		res = repair(t, d, req)
		if len(res.Questions) != 0 || len(res.FrameParts) != parts {
			t.Errorf("%s: %d questions, frame parts %v", answer, len(res.Questions), res.FrameParts)
		}
	}
}

// A malformed pattern of the convention names the layer that is called so.
func TestFrameLayerWithABracket(t *testing.T) {
	d := draw(t, 1, 1, "M0 0H100V80H0Z", "M20 20H80L50 60Z")
	d.Shapes[0].Layer = "[Page"
	for pattern, parts := range map[string]int{"[page": 1, "[pag": 0} {
		res := repair(t, d, size.Request{FrameLayers: []string{pattern}})
		if len(res.FrameParts) != parts {
			t.Errorf("%q: frame parts %v", pattern, res.FrameParts)
		}
	}
}

func TestFrameBesideThePage(t *testing.T) {
	d := draw(t, 1, 1, a4Frame, box)
	page := geometry.BoxAround(geometry.Pt(1000, 1000), geometry.Pt(1210, 1297))
	d.Page = &page
	res := repair(t, d, size.Request{Stock: cardA4})
	settled(t, res, 137, 62, 1e-9)
	if !slices.Contains(codes(res), finding.FrameOffPage) {
		t.Errorf("findings %v", codes(res))
	}
}

func TestDisagreements(t *testing.T) {
	// The header says inch, the frame says mm: mended, and told.
	res := repair(t, stating(draw(t, 1, 1, a4Frame, box), "inch", 25.4), size.Request{Stock: cardA4})
	settled(t, res, 137, 62, 1e-9)
	if !slices.Contains(codes(res), finding.SizeUnitDisagrees) || res.Cause != "mm_read_as_inches" {
		t.Errorf("%s %v", res.Cause, codes(res))
	}
	// The header says mm, the frame fits nothing by a known cause: asked, and told.
	res = repair(t, stating(draw(t, 0.96, 0.96, a3Frame, box), "mm", 1), size.Request{Stock: cardA4})
	asked(t, res, finding.SizeUnnamedFactor)
	if !slices.Contains(codes(res), finding.SizeUnitDisagrees) {
		t.Errorf("findings %v", codes(res))
	}
	// What the caller gave is used against the frame, and told.
	for name, req := range map[string]size.Request{
		"unit": {Unit: "mm"}, "scale": {Scale: 1},
		"width": {KnownLength: &size.KnownLength{Of: size.Width, MM: 137 * 72 / 25.4}},
	} {
		res = repair(t, onLayer(draw(t, 72/25.4, 72/25.4, a4Frame, box), "PAGE"), req)
		settled(t, res, 137*72/25.4, 62*72/25.4, 1e-9)
		if !slices.Contains(codes(res), finding.SizeGivenDisagrees) {
			t.Errorf("%s: findings %v", name, codes(res))
		}
	}
}

func TestKnownLengths(t *testing.T) {
	for _, k := range []size.KnownLength{{Of: size.Width, MM: 137}, {Of: size.Height, MM: 62}, {Of: size.LongestLine, MM: 137}} {
		res := repair(t, draw(t, 3.3, 3.3, box), size.Request{KnownLength: &k})
		settled(t, res, 137, 62, 1e-9)
		if res.Cause != size.KnownLengthIs {
			t.Errorf("%s: cause %s", k.Of, res.Cause)
		}
		res = repair(t, draw(t, 3.3, 3.3, a4Frame, box), size.Request{KnownLength: &k})
		settled(t, res, 137, 62, 1e-9)
		if len(res.FrameParts) != 1 {
			t.Errorf("%s: frame parts %v", k.Of, res.FrameParts)
		}
	}
	// A rectangle of the shape of a page is the work where the length says so.
	res := repair(t, draw(t, 3.3, 3.3, "M0 0H99V140H0Z", "M20 20H60V60H20Z"), size.Request{KnownLength: &size.KnownLength{Of: size.Width, MM: 99}})
	settled(t, res, 99, 140, 1e-9)
}

// A mend that is switched off is not made, and the finding says what it would change.
func TestMendsOff(t *testing.T) {
	const k = 72 / 25.4
	req := size.Request{Stock: cardA4, MendsOff: []string{size.MendUnit, size.MendFrame}}
	res := repair(t, draw(t, k, k, a4Frame, box), req)
	settled(t, res, 137*k, 62*k, 1e-9)
	if len(res.FrameParts) != 0 {
		t.Errorf("frame parts %v", res.FrameParts)
	}
	seen := 0
	for _, f := range res.Findings {
		if f.Mend != nil && slices.Contains(req.MendsOff, f.Mend.ID) {
			seen++
			if f.Mend.Applied || f.Mend.Effect == "" {
				t.Errorf("%s: mend %+v", f.Code, f.Mend)
			}
		}
	}
	if seen != 2 {
		t.Errorf("%d mends switched off are told: %v", seen, codes(res))
	}
}

func TestAmbiguousThreeUp(t *testing.T) { // fault table, "ambiguous frame": A1 in mm and A4 in points
	res := repair(t, draw(t, 1, 1, frame(594, 841), box), size.Request{})
	asked(t, res, finding.SizeAmbiguous)
	if ids := answers(res); !slices.Contains(ids[:2], "A1.none") || !slices.Contains(ids[:2], "A4.points_read_as_mm") {
		t.Errorf("answers %v", ids)
	}
	// The near miss: the file states mm and the frame confirms it.
	res = repair(t, onLayer(stating(draw(t, 1, 1, frame(594, 841), box), "mm", 1), "PAGE"), size.Request{})
	settled(t, res, 137, 62, 1e-9)
}

func TestRoundedPage(t *testing.T) { // a page of whole points, 595 × 842
	d := draw(t, 1, 1, frame(595, 842), "M85 113H473V289H85Z")
	res := repair(t, d, size.Request{Stock: cardA4})
	asked(t, res, finding.FrameInexact)
	if answers(res)[0] != "A4.points_read_as_mm" {
		t.Errorf("answers %v", answers(res))
	}
}

func TestWorkshopSheets(t *testing.T) {
	req := size.Request{Sheets: []workshop.NamedSize{{Name: "half board", ShortMM: 305, LongMM: 510}}, Frame: "Half Board"}
	res := repair(t, draw(t, 1.7, 1.7, frame(510, 305), box), req)
	settled(t, res, 137, 62, 1e-9)
	if res.Frame.Name != "half board" {
		t.Errorf("frame %s", res.Frame.Name)
	}
}

func TestInnerScaleAsks(t *testing.T) {
	d := stating(draw(t, 1, 1, box, "M40 50H60V70H40Z"), "mm", 1)
	d.Shapes[0].Nested, d.Shapes[1].Nested = 1, 25.4
	res := repair(t, d, size.Request{})
	if len(res.Questions) != 1 || res.Questions[0].ID != size.NestedQuestionID {
		t.Fatalf("questions %+v", res.Questions)
	}
	for answer, worst := range map[string]finding.Severity{size.AnswerAsPlaced: finding.Warn, size.AnswerNotPlaced: finding.Block} {
		res = repair(t, d, size.Request{Replies: ask.Replies{size.NestedQuestionID: {Answer: answer}}})
		if len(res.Questions) != 0 || finding.Worst(res.Findings) != worst {
			t.Errorf("%s: %d questions, %v", answer, len(res.Questions), codes(res))
		}
	}
	d.Shapes[1].Nested = 2 // a block drawn at half size is no mix-up
	if res = repair(t, d, size.Request{}); len(res.Questions) != 0 {
		t.Errorf("asked %+v", res.Questions)
	}
	d.Shapes[0].Nested, d.Shapes[1].Nested = 25.4, 25.4 // all of it: no difference inside
	if res = repair(t, d, size.Request{}); len(res.Questions) != 0 {
		t.Errorf("asked %+v", res.Questions)
	}
}

// Of parts at several scales those at the ratio of two units are asked about,
// wherever they stand in the file.
func TestInnerScaleAmongOthers(t *testing.T) {
	for _, scales := range [][3]float64{{1, 2, 25.4}, {1, 25.4, 2}, {2, 1, 25.4}, {25.4, 2, 2}} {
		d := stating(draw(t, 1, 1, box, "M40 50H60V70H40Z", "M80 50H90V60H80Z"), "mm", 1)
		for i := range d.Shapes {
			d.Shapes[i].Nested = scales[i]
		}
		res := repair(t, d, size.Request{})
		if len(res.Questions) != 1 || res.Questions[0].ID != size.NestedQuestionID || len(res.Questions[0].Places) != 1 || !strings.Contains(res.Questions[0].Text, "25.4") {
			t.Errorf("%v: asked %+v", scales, res.Questions)
		}
	}
}

func TestNothingDrawn(t *testing.T) {
	bad := geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(math.NaN(), 1))
	for _, d := range []*drawing.Drawing{{}, draw(t, 1, 1), {Shapes: []drawing.Shape{{Paths: []geometry.Path{bad, {}}}}}} {
		res := repair(t, d, size.Request{})
		if finding.Worst(res.Findings) != finding.Block || res.Transform.Det() == 0 {
			t.Errorf("%v, %v", codes(res), res.Transform)
		}
	}
}

func TestRequestErrors(t *testing.T) {
	for field, req := range map[string]size.Request{
		"frame": {Frame: "A44"}, "unit": {Unit: "furlong"}, "scale": {Scale: -1},
		"known_length": {KnownLength: &size.KnownLength{Of: "girth", MM: 3}},
	} {
		_, err := size.Repair(t.Context(), draw(t, 1, 1, box), req)
		var bad *size.RequestError
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// A rounded label that begins on a side of the frame lies within it and is cut; one that
// runs round it all is another look of the page.
func TestRoundedLabelOnTheFramesSide(t *testing.T) {
	for name, tt := range map[string]struct {
		path  string
		asked bool
	}{
		"a label on its side":  {"M0 60V100A5 5 0 0 0 5 105H55A5 5 0 0 0 60 100V60A5 5 0 0 0 55 55H5A5 5 0 0 0 0 60Z", false},
		"all along the frame":  {"M0 2V295A2 2 0 0 0 2 297H208A2 2 0 0 0 210 295V2A2 2 0 0 0 208 0H2A2 2 0 0 0 0 2Z", true},
		"a label of its width": {"M0 5V95A5 5 0 0 0 5 100H205A5 5 0 0 0 210 95V5A5 5 0 0 0 205 0H5A5 5 0 0 0 0 5Z", false},
	} {
		d := draw(t, 1, 1, a4Frame, tt.path, "M80 150H120V180H80Z")
		d.Shapes[0].Layer = "PAGE"
		res := repair(t, d, size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}})
		asked := len(res.Questions) > 0 && res.Questions[0].ID == size.BorderQuestionID
		if asked != tt.asked || !asked && len(res.FrameParts) != 1 {
			t.Errorf("%s: questions %+v, frame parts %v", name, res.Questions, res.FrameParts)
		}
	}
}

// The sizes that the question names are those of the parts, now and by their own
// numbers. Source: 20 mm, and 20/25.4 mm.
func TestInnerScaleTellsSizes(t *testing.T) {
	d := stating(draw(t, 1, 1, box, "M40 50H60V70H40Z"), "mm", 1)
	d.Shapes[0].Nested, d.Shapes[1].Nested = 1, 25.4
	all := repair(t, d, size.Request{}).Questions[0].Answers
	for i, want := range []float64{20, 20 / 25.4} {
		if a := all[i]; math.Abs(a.WidthMM-want) > 1e-9 || math.Abs(a.HeightMM-want) > 1e-9 || !strings.Contains(a.Label, number.People(want)) {
			t.Errorf("%+v, want %g mm", a, want)
		}
	}
	d.Unit = drawing.Unit{Name: "none", MM: 1} // what they measure is not known yet
	for _, q := range repair(t, d, size.Request{}).Questions {
		if q.ID == size.NestedQuestionID {
			t.Errorf("asked before the size is settled: %+v", q)
		}
	}
}

// A frame whose last side is closed by a step that rounding left is the frame it is
// without the step; a side that is really bevelled is none.
func TestFrameClosedByACrumb(t *testing.T) {
	for _, step := range []float64{0, 1e-12, 1e-6, 0.001, 0.05} {
		for _, path := range []string{fmt.Sprintf("M0 0H210V297H0V%.12fZ", step), fmt.Sprintf("M0 0H210V297H0V%.12fZ", -step), fmt.Sprintf("M%.12f 0H210V297H0V%.12fZ", step, step)} {
			res := repair(t, stating(draw(t, 1, 1, path, box), "mm", 1), size.Request{FrameIsSheet: true, Stock: cardA4})
			if res.Frame == nil || res.Frame.Name != "A4" {
				t.Errorf("%s: frame %+v, %v", path, res.Frame, codes(res))
			}
		}
	}
	res := repair(t, stating(draw(t, 1, 1, "M20 0H210V297H0V20Z", box), "mm", 1), size.Request{FrameIsSheet: true, Stock: cardA4})
	if res.Frame != nil && res.Frame.Name == "A4" {
		t.Errorf("a plate with a bevel is taken for %+v", res.Frame)
	}
}

// What the frame's own layer says of its size stands first, also where the factor has
// no name: a starter file of a roll, saved in hundredths of mm, and in tenths as pixels.
func TestLayerSaysTheSizeFirst(t *testing.T) {
	roll, _ := workshop.Example().Stock("film-removable-610")
	for name, d := range map[string]*drawing.Drawing{
		"hundredths": draw(t, 1, 1, "M0 0H40000V60000H0Z", "M3000 4000H15000V12000H3000Z"),
		"pixels":     draw(t, 1, 1, "M0 0H4000V6000H0Z", "M300 400H1500V1200H300Z"),
	} {
		if name == "pixels" {
			d.Unit = drawing.Unit{Name: "px", MM: 25.4 / 96}
		}
		d.Shapes[0].Layer = "PAGE_400x600"
		res := repair(t, d, size.Request{FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}, Stock: roll})
		asked(t, res, finding.SizeUnnamedFactor)
		if first := answers(res)[0]; first != "400×600.unnamed" {
			t.Errorf("%s: answers %v", name, answers(res))
		}
	}
}

// A stray point that happens to lie on the frame is no border that might be cut.
func TestStrayOnTheFrame(t *testing.T) {
	d := onLayer(draw(t, 1, 1, a4Frame, box, "M105 0h0.0005"), "PAGE")
	d.Shapes[1].Layer, d.Shapes[2].Layer = "CUT", "CUT"
	settled(t, repair(t, d, size.Request{Stock: cardA4, WorkLayers: []string{"CUT"}, FrameLayers: []string{"PAGE"}}), 137, 62, 1e-9)
}

// A4 printed to fit the height of Letter has its own shape still: it stands before a Letter
// that was stretched by 9 %. A stretch of 0.11 %, which makes A1's shape of A4, stays first.
func TestReducedBeforeStretched(t *testing.T) {
	for name, tt := range map[string]struct {
		d     *drawing.Drawing
		first string
	}{
		"reduced":   {draw(t, 279.4/297, 279.4/297, a4Frame, "M65 60H105V100H65Z"), "A4.unnamed"},
		"stretched": {draw(t, 297*594.0/841/210, 1, a4Frame, "M65 60H105V100H65Z"), "A4.per_axis"},
	} {
		res := repair(t, stating(onLayer(tt.d, "OUTLINE"), "mm", 1), size.Request{Stock: cardA4})
		got := slices.DeleteFunc(answers(res), func(id string) bool { return strings.HasPrefix(id, "known_") })
		if got[0] != tt.first {
			t.Errorf("%s: %v", name, got)
		}
	}
}
