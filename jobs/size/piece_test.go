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

// onPage gives d a page of w by h drawing units.
func onPage(d *drawing.Drawing, w, h float64) *drawing.Drawing {
	d.Page = &geometry.Box{Max: geometry.Pt(w, h)}
	return d
}

// pixels is a drawing whose file reads in pixels.
func pixels(d *drawing.Drawing, stated bool) *drawing.Drawing {
	d.Unit = drawing.Unit{Name: "px", MM: 25.4 / 96, Declared: stated, Source: "width"}
	return d
}

// Pieces that have the shape of a page or its numbers are not scaled to it in
// silence: the question holds the true size.
func TestPieceOfThePagesShapeIsAskedAbout(t *testing.T) {
	sheet := size.Request{Stock: cardA4, FrameIsSheet: true, FrameLayers: []string{"page"}}
	inside := "M10 10H30V25H10Z"
	for name, tt := range map[string]struct {
		d    *drawing.Drawing
		req  size.Request
		code finding.Code
		w, h float64
	}{
		"third of the sheet, mm":       {stating(draw(t, 1, 1, frame(70, 99), inside), "mm", 1), sheet, finding.SizeUnnamedFactor, 70, 99},
		"third of the sheet, no unit":  {draw(t, 1, 1, frame(70, 99), inside), sheet, finding.SizeUnnamedFactor, 70, 99},
		"ratio within 0.05 mm":         {stating(draw(t, 1, 1, frame(99, 140), inside), "mm", 1), sheet, finding.SizeUnnamedFactor, 99, 140},
		"quarter of the sheet":         {stating(draw(t, 1, 1, frame(105, 148.5), inside), "mm", 1), sheet, finding.SizeUnnamedFactor, 105, 148.5},
		"eighth of the sheet":          {stating(draw(t, 1, 1, frame(105, 74.25), inside), "mm", 1), sheet, finding.SizeUnnamedFactor, 105, 74.25},
		"A4 numbers in pixels":         {onPage(pixels(draw(t, 1, 1, a4Frame, box), false), 800, 600), sheet, finding.FrameInPage, 210 * 25.4 / 96, 297 * 25.4 / 96},
		"A4 numbers in stated pixels":  {onPage(pixels(draw(t, 1, 1, a4Frame, box), true), 800, 600), size.Request{}, finding.FrameInPage, 210 * 25.4 / 96, 297 * 25.4 / 96},
		"A5 numbers of points on a A4": {onPage(stating(draw(t, 1, 1, frame(148, 210), inside), "pt", 25.4/72), 595.276, 841.89), size.Request{}, finding.FrameInPage, 148 * 25.4 / 72, 210 * 25.4 / 72},
	} {
		t.Run(name, func(t *testing.T) {
			asked(t, repair(t, tt.d, tt.req), tt.code)
			tt.req.Replies = ask.Replies{size.QuestionID: {Answer: size.AnswerPiece}}
			res := repair(t, tt.d, tt.req)
			settled(t, res, tt.w, tt.h, 1e-9)
			if len(res.FrameParts) > 0 {
				t.Errorf("frame parts %v", res.FrameParts)
			}
		})
	}
	// Near misses: what is declared by a person or fills its page is the frame.
	for name, tt := range map[string]struct {
		d    *drawing.Drawing
		req  size.Request
		w, h float64
	}{
		"by the caller":   {stating(draw(t, 1, 1, frame(70, 99), inside), "mm", 1), size.Request{Stock: cardA4, Frame: "A4"}, 60, 45},
		"fills its page":  {onPage(pixels(draw(t, 1, 1, a4Frame, box), false), 210, 297), sheet, 137, 62},
		"page by its own": {onPage(pixels(draw(t, 96/25.4, 96/25.4, a4Frame, box), false), 2000, 2000), sheet, 137, 62},
	} {
		t.Run(name, func(t *testing.T) { settled(t, repair(t, tt.d, tt.req), tt.w, tt.h, 1e-6) })
	}
}

// A rectangle of a paper's size on a cut layer that holds closed work is asked about
// also where nearly as much lies beside it; one that holds lines is a piece. Source: the
// decision table.
func TestWorkBesideAPaperIsAskedAbout(t *testing.T) {
	const a5, inside, beside = "M0 0H210V148H0Z", "M20 20H60V50H20ZM80 20H120V50H80Z", "M220 0H260V60H220ZM220 70H260V99H220Z"
	a3 := cardA4
	a3.NamedSize, a3.WidthMM, a3.LengthMM = "A3", 297, 420
	req := size.Request{Stock: a3, WorkLayers: []string{"CUT"}}
	on := func(holds string) *drawing.Drawing {
		d := stating(draw(t, 1, 1, a5, holds, beside), "mm", 1)
		for i := range d.Shapes {
			d.Shapes[i].Layer = "CUT"
		}
		return d
	}
	res := repair(t, on(inside), req)
	if len(res.Questions) != 1 || res.Questions[0].ID != size.PieceQuestionID || !strings.HasPrefix(res.Questions[0].Text, "A part of the drawing lies inside a rectangle of 210 × 148 mm") {
		t.Fatalf("questions %+v", res.Questions)
	}
	labels := map[string]string{ // what is not the frame spans from 20 to 260 and from 0 to 99
		size.AnswerFrames: "Page frame, not cut: your work is 240 × 99 mm", size.AnswerPieces: "Edge of your work, cut: your work is 260 × 148 mm",
	}
	for _, a := range res.Questions[0].Answers {
		if a.Label != labels[a.ID] {
			t.Errorf("%s: %q, want %q", a.ID, a.Label, labels[a.ID])
		}
	}
	for answer, parts := range map[string]int{size.AnswerFrames: 1, size.AnswerPieces: 0} {
		req.Replies = ask.Replies{size.PieceQuestionID: {Answer: answer}}
		res := repair(t, on(inside), req)
		if len(res.Questions) > 0 || len(res.FrameParts) != parts {
			t.Errorf("%s: frame parts %v, questions %v", answer, res.FrameParts, res.Questions)
		}
		if said := slices.Contains(codes(res), finding.FrameOverhang); said != (answer == size.AnswerFrames) {
			t.Errorf("%s: that two lines lie beside the frame is said: %v", answer, said)
		}
	}
	req.Replies = nil
	if res := repair(t, on("M20 20H190"), req); len(res.Questions) > 0 || len(res.FrameParts) > 0 {
		t.Errorf("lines: frame parts %v, questions %v", res.FrameParts, res.Questions)
	}
}

// A window of a paper's size in a plate is part of the plate, with work in it and beside it,
// and nothing is asked; without the plate round it the same is asked about.
func TestWindowOfAPapersSizeInAPlate(t *testing.T) {
	const work = "M20 20h210v148h-210z M40 40h40v30h-40z M240 20h20v60h-20z M240 90h20v60h-20z"
	req := size.Request{Stock: cardOf("A3", 297, 420), WorkLayers: []string{"CUT"}}
	_, res := sizeOf(t, inMM(400, 400, "CUT", "M10 10h270v200h-270z"+work), req)
	settled(t, res, 270, 200, 1e-6)
	if len(res.FrameParts) > 0 {
		t.Errorf("frame parts %v", res.FrameParts)
	}
	if _, res := sizeOf(t, inMM(400, 400, "CUT", work), req); len(res.Questions) != 1 || res.Questions[0].ID != size.PieceQuestionID {
		t.Errorf("without the plate: %v", res.Questions)
	}
}

// A rectangle that has a paper's size by another unit may be the page, or a piece as large
// as that paper, where a sheet of this stock holds it: both are offered, what is told of
// each is what it makes, and only the page is taken out. By hand: 21 × 29.7 holds 6 × 6;
// as centimetres that is A4, which an A3 holds and a smaller sheet does not.
func TestPieceOfAPapersSizeByAnotherUnit(t *testing.T) {
	file := inMM(210, 297, "CUT", "M10 10h21v29.7h-21Z M15 15h6v6h-6z")
	for _, sheet := range []struct {
		name  string
		w, h  float64
		piece bool
	}{{"A3", 297, 420, true}, {"A5", 148, 210, false}} {
		req := size.Request{Stock: cardOf(sheet.name, sheet.w, sheet.h), WorkLayers: []string{"CUT"}}
		_, res := sizeOf(t, file, req)
		const page, piece = "A4.centimetres_read_as_mm", "A4.centimetres_read_as_mm.piece"
		if slices.Contains(answers(res), piece) != sheet.piece {
			t.Errorf("on %s: answers %v", sheet.name, answers(res))
		}
		for _, c := range []struct {
			answer string
			w, h   float64
			parts  int
		}{{size.AnswerPiece, 21, 29.7, 0}, {size.AnswerAsRead, 6, 6, 1}, {page, 60, 60, 1}, {piece, 210, 297, 0}} {
			at := slices.IndexFunc(res.Questions[0].Answers, func(a ask.Answer) bool { return a.ID == c.answer })
			if at < 0 {
				if c.answer != piece {
					t.Errorf("on %s: no answer %s", sheet.name, c.answer)
				}
				continue
			}
			told := res.Questions[0].Answers[at]
			req.Replies = ask.Replies{size.QuestionID: {Answer: c.answer}}
			_, made := sizeOf(t, file, req)
			settled(t, made, c.w, c.h, 1e-6)
			if len(made.FrameParts) != c.parts || math.Abs(told.WidthMM-c.w) > 1e-6 || math.Abs(told.HeightMM-c.h) > 1e-6 {
				t.Errorf("on %s, %s: %d frame parts, told %g × %g", sheet.name, c.answer, len(made.FrameParts), told.WidthMM, told.HeightMM)
			}
		}
	}
}

// A declared frame is looked for beside the work, but not among it: a window
// of the sheet's shape is none.
func TestDeclaredFrameIsNotAWindow(t *testing.T) {
	req := size.Request{Stock: cardA4, Frame: "A4"}
	window := draw(t, 1, 1, "M0 0H137V137H0Z", "M20 20H40V34.142857H20Z", "M60 60H100V90H60Z")
	window.Shapes[1].Paths[0] = geometry.BoxAround(geometry.Pt(20, 20), geometry.Pt(40, 20+20*210.0/297)).Path()
	asked(t, repair(t, window, req), finding.FrameNotFound)
	// Beside the work it may as well be a piece, unless its factor has a name.
	asked(t, repair(t, draw(t, 1, 1, "M0 0H137V137H0Z", "M20 20H120V90H20Z", "M200 0H270V99H200Z"), req), finding.SizeUnnamedFactor)
	res := repair(t, draw(t, 1, 1, "M0 0H137V62H0Z", "M20 20H120V50H20Z", "M200 0H410V297H200Z"), req)
	settled(t, res, 137, 62, 1e-9)
}

// A bleed round the frame has no size of its own and does not hide it.
func TestFrameWithinABleed(t *testing.T) {
	const bleed = "M-3 -3H213V300H-3Z"
	for _, k := range []float64{1, 72 / 25.4} {
		for name, req := range map[string]size.Request{"open": {Stock: cardA4}, "sheet": {Stock: cardA4, FrameIsSheet: true}, "given": {Stock: cardA4, Frame: "A4"}} {
			for _, d := range []*drawing.Drawing{draw(t, k, k, bleed, a4Frame, box), stating(draw(t, k, k, bleed, a4Frame, box), "mm", 1)} {
				res := repair(t, d, req)
				settled(t, res, 216, 303, 1e-6)
				if len(res.FrameParts) != 1 || res.FrameParts[0].Shape != 1 {
					t.Errorf("%s, %g: frame parts %v", name, k, res.FrameParts)
				}
			}
		}
	}
	// A second outline a hair outside is no frame either, also where its shape is a paper's.
	for _, by := range []float64{0.1, 0.2, 0.5} {
		d := stating(draw(t, 1, 1, a4Frame, a4Frame, box), "mm", 1)
		d.Shapes[0].Paths[0] = geometry.Box{Min: geometry.Pt(-by, -by), Max: geometry.Pt(210+by, 297+by)}.Path()
		d.Shapes[0].Layer, d.Shapes[1].Layer = "PAGE", "PAGE"
		settled(t, repair(t, d, size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}}), 137, 62, 1e-9)
	}
	// Far inside, a rectangle of another page's size does not stand in for the frame.
	asked(t, repair(t, draw(t, 1, 1, "M0 0H203.3V297H0Z", "M20 20H168V230H20Z", "M40 40H60V60H40Z"), size.Request{Stock: cardA4}), finding.FrameOffShape)
}

// A frame rounded to whole pixels is nearly A4: its own factor and the named one
// differ by more than 0.05 mm. What the caller declares binds all the same, since
// its axes agree; what the convention says does not.
func TestDeclaredRoundedPage(t *testing.T) {
	const k = 96 / 25.4
	d := pixels(draw(t, k, k, box, "M60 120H100V160H60Z"), true)
	d.Shapes = append(d.Shapes, draw(t, 1, 1, frame(794, 1123)).Shapes...)
	res := repair(t, d, size.Request{Stock: cardA4, FrameIsSheet: true})
	asked(t, res, finding.SizeUnnamedFactor)
	if !slices.Contains(answers(res), "A4.none") {
		t.Errorf("answers %v", answers(res))
	}
	res = repair(t, d, size.Request{Stock: cardA4, Frame: "A4"})
	settled(t, res, 137, 120, 0.06)
	if res.Cause != size.DeclaredFrame {
		t.Errorf("cause %s", res.Cause)
	}
}

// The page size that a file states may set its numbers to no common unit. Then
// it was scaled on purpose, unless it is a rounded one or in pixels alone.
func TestPageSizeScalesNumbers(t *testing.T) {
	inPage := func(mm float64, stated bool) *drawing.Drawing {
		per := mm * 96 / 25.4
		d := moved(draw(t, 1, 1, a4Frame, box), geometry.Scale(per, per))
		d.Unit = drawing.Unit{Name: "px", MM: 25.4 / 96, Declared: stated, Source: "width", PerNumber: per}
		return d
	}
	res := repair(t, inPage(100.0/210, true), size.Request{})
	asked(t, res, finding.SizeUnnamedFactor)
	res = repair(t, inPage(1000.0/210*25.4/96, false), size.Request{Stock: cardA4})
	settled(t, res, 137, 62, 1e-6)
	res = repair(t, inPage(11.69*25.4/297, true), size.Request{Stock: cardA4, Frame: "A4"})
	settled(t, res, 137, 62, 1e-6)
	if res.Cause != "mm_read_as_page_units" {
		t.Errorf("cause %s: %s", res.Cause, res.Why)
	}
}

// A plate whose sides are whole eighths of the inch that the file states was drawn
// to measure: it is a piece, though a page spoiled along one axis would be about
// as wide. With sides between two eighths it is asked about.
func TestPlateInEighthsOfAnInch(t *testing.T) {
	hole := "M.5 .5H1.5V1.25H.5Z"
	for _, long := range []float64{11, 11.125} {
		res := repair(t, stating(draw(t, 1, 1, frame(7.375, long), hole), "inch", 25.4), size.Request{Stock: cardA4})
		settled(t, res, 7.375*25.4, long*25.4, 1e-9)
		if len(res.FrameParts) > 0 {
			t.Errorf("%g inches: frame parts %v", long, res.FrameParts)
		}
		asked(t, repair(t, stating(draw(t, 1, 1, frame(7.39, long), hole), "inch", 25.4), size.Request{Stock: cardA4}), finding.FrameOffShape)
	}
}

// Plates are drawn in whole millimetres. Where they have them by another unit alone the
// header is not believed.
func TestPlatesToMeasure(t *testing.T) {
	const pt, px = 72 / 25.4, 96 / 25.4
	plate := func(k float64, sides ...float64) *drawing.Drawing {
		var paths []string
		for i := 0; i < len(sides); i += 2 {
			x := 100 * float64(i)
			paths = append(paths, fmt.Sprintf("M%.6f 0h%.6fv%.6fh%.6fz", x*k, sides[i]*k, sides[i+1]*k, -sides[i]*k))
		}
		return stating(draw(t, 1, 1, paths...), "mm", 1)
	}
	for _, tt := range []struct {
		name  string
		d     *drawing.Drawing
		req   size.Request
		first string // answer; empty: it is settled
	}{
		{"points", plate(pt, 60, 40), size.Request{}, "unit.points_read_as_mm"},
		{"pixels", plate(px, 61, 43), size.Request{}, "unit.pixels_read_as_mm"},
		{"two plates in points", plate(pt, 60, 40, 85, 55), size.Request{}, "unit.points_read_as_mm"},
		{"the caller says that nothing is a frame", plate(pt, 148, 105), size.Request{Frame: size.NoFrame}, "unit.points_read_as_mm"},
		{"whole mm as the file reads", plate(1, 170, 113), size.Request{}, ""},
		{"tenths of them", plate(1, 170.1, 113.4), size.Request{}, ""},
		{"no whole mm in any unit", plate(pt, 60.37, 40.21), size.Request{}, ""},
		{"whole mm on one side only", plate(pt, 60, 40.21), size.Request{}, ""},
		{"one of two", plate(pt, 60, 40, 85.33, 55.17), size.Request{}, ""},
		{"the caller gave the unit", plate(pt, 60, 40), size.Request{Unit: "mm"}, ""},
	} {
		tt.req.Stock, _ = workshop.Example().Stock("film-removable-610")
		res := repair(t, tt.d, tt.req)
		if tt.first == "" {
			if len(res.Questions) > 0 {
				t.Errorf("%s: asks %v", tt.name, res.Questions)
			}
			continue
		}
		if !slices.Contains(codes(res), finding.SizeOtherUnit) || answers(res)[0] != tt.first {
			t.Errorf("%s: %v, answers %v", tt.name, codes(res), answers(res))
		}
	}
}

// A length that was rounded makes no paper of the frame round the work. That the frame is
// no part of what was measured is then asked about, and not taken the other way.
func TestRoundedLengthInAFrame(t *testing.T) {
	for _, k := range []size.KnownLength{{Of: size.Width, MM: 41}, {Of: size.LongestLine, MM: 41}} {
		d := onLayer(draw(t, 2.2, 2.2, a4Frame, "M65 60H105.4V100H65Z"), "OUTLINE")
		d.Shapes[1].Layer = "CUT"
		req := size.Request{Stock: cardA4, WorkLayers: []string{"CUT"}, KnownLength: &k}
		res := repair(t, d, req)
		if len(res.Questions) != 1 || res.Questions[0].ID != size.PieceQuestionID || answers(res)[0] != size.AnswerFrames {
			t.Fatalf("%s: asks %v", k.Of, res.Questions)
		}
		req.Replies = ask.Replies{size.PieceQuestionID: {Answer: size.AnswerFrames}}
		settled(t, repair(t, d, req), 41, 40*41/40.4, 1e-9)
	}
}
