package size_test

import (
	"fmt"
	"math"
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

// draw returns a drawing of SVG paths, each a shape of its own, with every
// coordinate multiplied by sx and sy. It states no unit.
func draw(t testing.TB, sx, sy float64, ds ...string) *drawing.Drawing {
	t.Helper()
	d := &drawing.Drawing{Format: "dxf", Unit: drawing.Unit{Name: "none", MM: 1}}
	for _, data := range ds {
		paths, err := geometry.ParsePathData(data)
		if err != nil {
			t.Fatalf("%q: %v", data, err)
		}
		for i := range paths {
			paths[i] = paths[i].Transform(geometry.Scale(sx, sy))
		}
		d.Shapes = append(d.Shapes, drawing.Shape{Paths: paths, Layer: "CUT", Stroke: drawing.RGB(0, 0, 0)})
	}
	return d
}

func stating(d *drawing.Drawing, name string, mm float64) *drawing.Drawing {
	d.Unit = drawing.Unit{Name: name, MM: mm, Declared: true, Source: "header"}
	return d
}

func repair(t testing.TB, d *drawing.Drawing, req size.Request) *size.Result {
	t.Helper()
	res, err := size.Repair(t.Context(), d, req)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// settled fails unless the size is w × h mm within tol, without a question.
func settled(t testing.TB, res *size.Result, w, h, tol float64) {
	t.Helper()
	if len(res.Questions) > 0 {
		t.Fatalf("asked %s: %+v", res.Questions[0].Code, answers(res))
	}
	if math.Abs(res.WidthMM-w) > tol || math.Abs(res.HeightMM-h) > tol {
		t.Errorf("%.4f × %.4f mm, want %g × %g (%s: %s)", res.WidthMM, res.HeightMM, w, h, res.Cause, res.Why)
	}
}

func answers(res *size.Result) []string {
	var ids []string
	for _, a := range res.Questions[0].Answers {
		ids = append(ids, a.ID)
	}
	return ids
}

func codes(res *size.Result) []finding.Code {
	var out []finding.Code
	for _, f := range res.Findings {
		out = append(out, f.Code)
	}
	return out
}

// asked fails unless there is one question with that code.
func asked(t testing.TB, res *size.Result, code finding.Code) {
	t.Helper()
	if len(res.Questions) != 1 {
		t.Fatalf("%d questions, want one with code %s; %s, %s, %v", len(res.Questions), code, res.Cause, res.Why, codes(res))
	}
	if q := res.Questions[0]; q.ID != size.QuestionID || q.Code != code {
		t.Errorf("question %s with code %s, want %s", q.ID, q.Code, code)
	}
	if !slices.Contains(codes(res), code) {
		t.Errorf("no finding %s: %v", code, codes(res))
	}
}

const (
	a4Frame = "M0 0H210V297H0Z"
	a3Frame = "M0 0H297V420H0Z"
	box     = "M30 40H167V102H30Z" // 137 × 62 mm
)

var cardA4 = workshop.Stock{ID: "card-220-a4", Family: workshop.HeavyCard, Form: workshop.Sheet, NamedSize: "A4", WidthMM: 210, LengthMM: 297}

// Source: the acceptance line of the main job: a 137 × 62 mm box in an A4
// frame, in each unit as if it were mm.
func TestBoxInFrame(t *testing.T) {
	for _, tt := range []struct {
		name   string
		factor float64 // drawing units in one mm
		cause  string
	}{
		{"mm", 1, "none"},
		{"points", 72 / 25.4, "points_read_as_mm"},
		{"pixels", 96 / 25.4, "pixels_read_as_mm"},
		{"inches", 1 / 25.4, "inches_read_as_mm"},
		{"centimetres", 0.1, "centimetres_read_as_mm"},
		{"metres", 0.001, "metres_read_as_mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, d := range []*drawing.Drawing{
				draw(t, tt.factor, tt.factor, a4Frame, box),
				onLayer(stating(draw(t, tt.factor, tt.factor, a4Frame, box), "mm", 1), "PAGE"),
			} {
				res := repair(t, d, size.Request{Stock: cardA4})
				if rulers := tt.name == "inches" || tt.name == "centimetres"; rulers && d.Unit.Declared {
					asked(t, res, finding.FrameOtherUnit) // the header says mm, and so small a piece can be meant
					if first := answers(res)[0]; first != "A4."+tt.cause {
						t.Errorf("first answer %s", first)
					}
					continue
				}
				settled(t, res, 137, 62, 0.01)
				if res.Cause != tt.cause {
					t.Errorf("cause %s, want %s", res.Cause, tt.cause)
				}
				if len(res.FrameParts) != 1 || res.FrameParts[0].Shape != 0 {
					t.Errorf("frame parts %v", res.FrameParts)
				}
				if res.Frame == nil || res.Frame.Name != "A4" {
					t.Errorf("frame %+v", res.Frame)
				}
			}
		})
	}
}

// Source: the acceptance line of the main job: a declared frame makes any
// factor good. That the convention says so is evidence, and asked about with the
// sheet first.
func TestDeclaredFrame(t *testing.T) {
	for _, k := range []float64{0.3777, 1 / 0.3777, 1.2345, 17.3} {
		for name, req := range map[string]size.Request{
			"request": {Frame: "a4", Stock: cardA4},
			"lengths": {Frame: "210x297", Stock: cardA4},
			"cm":      {Frame: "21 x 29.7 cm", Stock: cardA4},
		} {
			res := repair(t, draw(t, k, k, a4Frame, box), req)
			settled(t, res, 137, 62, 0.01)
			if res.Cause != size.DeclaredFrame {
				t.Errorf("%s, factor %g: cause %s", name, k, res.Cause)
			}
		}
		res := repair(t, draw(t, k, k, a4Frame, box), size.Request{FrameIsSheet: true, Stock: cardA4})
		asked(t, res, finding.SizeUnnamedFactor)
		if first := res.Questions[0].Answers[0]; first.ID != "A4.unnamed" || math.Abs(first.WidthMM-137) > 0.01 || math.Abs(first.HeightMM-62) > 0.01 {
			t.Errorf("factor %g: first answer %+v", k, first)
		}
	}
}

// Source: the acceptance line of the main job: A3 × 0.96 with nothing declared.
func TestUnnamedFactorAsks(t *testing.T) {
	d := draw(t, 0.96, 0.96, a3Frame, box)
	res := repair(t, d, size.Request{Stock: cardA4})
	asked(t, res, finding.SizeUnnamedFactor)
	if got := answers(res); got[0] != "A3.unnamed" {
		t.Errorf("answers %v", got)
	}
	res = repair(t, d, size.Request{Stock: cardA4, Replies: ask.Replies{size.QuestionID: {Answer: "A3.unnamed"}}})
	settled(t, res, 137, 62, 1e-9)
	res = repair(t, d, size.Request{Stock: cardA4, Replies: ask.Replies{size.QuestionID: {Answer: "known_width", MM: 137}}})
	settled(t, res, 137, 62, 1e-9)
}

// Source: the acceptance line of the main job: 0.1 % or 2 % one way.
func TestStretchNeverSilent(t *testing.T) {
	circle := "M60 71A20 20 0 0 1 100 71A20 20 0 0 1 60 71Z"
	for _, percent := range []float64{0.1, 2, 5, -0.1, -2} {
		for _, along := range []string{"x", "y"} {
			for _, unit := range []float64{1, 72 / 25.4} {
				k := 1 + percent/100
				sx, sy := unit*k, unit
				if along == "y" {
					sx, sy = unit, unit*k
				}
				for name, req := range map[string]size.Request{"open": {Stock: cardA4}, "declared": {Stock: cardA4, Frame: "A4"}, "sheet": {Stock: cardA4, FrameIsSheet: true}} {
					for _, d := range []*drawing.Drawing{draw(t, sx, sy, a4Frame, box, circle), stating(draw(t, sx, sy, a4Frame, box), "mm", 1)} {
						res := repair(t, d, req)
						if len(res.Questions) == 0 {
							t.Fatalf("%s: %g %% along %s, unit %g: accepted by %s", name, percent, along, unit, res.Cause)
						}
						ids := answers(res)
						if !slices.Contains(ids, "A4.per_axis") {
							t.Fatalf("%s: %g %% along %s: answers %v", name, percent, along, ids)
						}
						want := finding.FrameOffShape
						if len(d.Shapes) > 2 && math.Abs(percent) >= 2 { // the circle shows it
							want = finding.FrameStretched
						}
						if !slices.Contains(codes(res), want) {
							t.Errorf("%s: %g %% along %s, unit %g: %v, want %s", name, percent, along, unit, codes(res), want)
						}
						if ids[0] != "A4.per_axis" {
							t.Errorf("%s: %g %% along %s: first answer %v", name, percent, along, ids)
						}
						one, other := fmt.Sprintf("Stretched by %.4g %%", 100*math.Abs(k-1)), fmt.Sprintf("Stretched by %.4g %%", 100*math.Abs(1/k-1)) // one axis by the other
						if text := told(res); !strings.Contains(text, one) && !strings.Contains(text, other) {
							t.Errorf("%s: %g %% along %s is told neither as %q nor as %q:\n%s", name, percent, along, one, other, text)
						}
						req.Replies = ask.Replies{size.QuestionID: {Answer: "A4.per_axis"}}
						settled(t, repair(t, d, req), 137, 62, 1e-9)
						req.Replies = nil
					}
				}
			}
		}
	}
}

// The near end of the fault table: nothing in the drawing says how large it is.
func TestNoEvidenceAsks(t *testing.T) {
	d := draw(t, 1, 1, box)
	res := repair(t, d, size.Request{Stock: cardA4})
	asked(t, res, finding.SizeNoEvidence)
	q := res.Questions[0]
	if a := q.Answers[0]; !strings.Contains(a.Evidence, "left edge to its right edge") || !a.NeedsMM {
		t.Errorf("%q, first answer %+v", q.Text, q.Answers[0])
	}
	res = repair(t, d, size.Request{Stock: cardA4, Replies: ask.Replies{size.QuestionID: {Answer: "known_width", MM: 68.5}}})
	settled(t, res, 68.5, 31, 1e-9)
}

func TestHeaderAlone(t *testing.T) {
	res := repair(t, stating(draw(t, 1, 1, box), "mm", 1), size.Request{Stock: cardA4})
	settled(t, res, 137, 62, 1e-9)
	if res.Cause != size.DeclaredUnit || !slices.Contains(codes(res), finding.SizeByHeaderAlone) {
		t.Errorf("%s %v", res.Cause, codes(res))
	}
	res = repair(t, stating(draw(t, 1, 1, box), "inch", 25.4), size.Request{Stock: cardA4})
	asked(t, res, finding.SizeOffStock)
}
