package size_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// What technicians met at the bench, from the bytes of a file through reading to
// the size, each with its near miss. Source: the decision table of the design.

// inMM is an SVG whose numbers are mm on a page of w by h mm; layers are pairs of
// an id and the path data on it.
func inMM(w, h float64, layers ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" fill="none" stroke="#007c91">`, w, h, w, h)
	for i := 0; i < len(layers); i += 2 {
		fmt.Fprintf(&b, `<g id="%s"><path d="%s"/></g>`, layers[i], layers[i+1])
	}
	return b.String() + "</svg>"
}

func cardOf(name string, w, h float64) workshop.Stock {
	return workshop.Stock{ID: "card", Family: workshop.HeavyCard, Form: workshop.Sheet, NamedSize: name, WidthMM: w, LengthMM: h}
}

func sizeOf(t *testing.T, file string, req size.Request) (*read.Result, *size.Result) {
	t.Helper()
	d, err := read.Drawing(t.Context(), []byte(file), read.Request{})
	if err != nil {
		t.Fatal(err)
	}
	return d, repair(t, &d.Drawing, req)
}

const (
	cut97  = "M30 40h97v48.5h-97Z"        // of a page at 97 %: truly 100 × 50
	page97 = "M0 0h203.7v288.09h-203.7Z"  // A4 at 97 %
	hole21 = "M20 30h21v21h-21Z"          // in a piece
	lineIn = "M10 10L30 40"               // an open line
	twoA4  = "M0 0h210v297h-210Z"         // the first of several frames
	beside = "M250 0h210v297h-210Z"       // the second
	large  = "M250 0h297v420h-297Z"       // A3
	inside = "M270 20h60v40h-60Z"         // work in the second
	tinyAt = "M700 20h.001"               // a stray
	bank   = "M30 40h85.6v54h-85.6Z"      // work of a known size
	a5     = "M10 10h148v210h-148Z"       // a piece of a named size
	margin = "M10 10h190v277h-190Z"       // an even margin inside A4
	nearA4 = "M0 0h210.26v297.1h-210.26Z" // slightly off
)

func TestAtTheBench(t *testing.T) {
	a3, a4 := cardOf("A3", 297, 420), cardOf("A4", 210, 297)
	layers := size.Request{FrameIsSheet: true, FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}}
	on := func(s workshop.Stock, change func(*size.Request)) size.Request {
		req := layers
		req.Stock = s
		if change != nil {
			change(&req)
		}
		return req
	}
	for name, tt := range map[string]struct {
		file  string
		req   size.Request
		asks  string // ID of the first question, empty: settled
		first string // its first answer
		w, h  float64
	}{
		"97 % on the page layer":         {inMM(297, 420, "PAGE", page97, "CUT", cut97), on(a3, nil), size.QuestionID, "A4.unnamed", 100, 50},
		"97 % on another layer":          {inMM(297, 420, "L0", page97, "CUT", cut97), on(a3, nil), size.QuestionID, "A4.unnamed", 100, 50},
		"near miss: 100 %":               {inMM(297, 420, "PAGE", twoA4, "CUT", cut97), on(a3, nil), "", "", 97, 48.5},
		"a piece of A shape with a hole": {inMM(210, 297, "CUT", "M10 10h63v89.1h-63Z"+hole21), on(a4, nil), size.QuestionID, size.AnswerPiece, 63, 89.1},
		"A5 on A4 that holds lines":      {inMM(210, 297, "CUT", a5, "CUT", lineIn), on(a4, nil), "", "", 148, 210},
		"A5 with lines and a stray":      {inMM(800, 297, "CUT", a5, "CUT", lineIn, "CUT", "M20 20h.001"), on(a4, nil), "", "", 148, 210},
		"A5 on A4 that holds a hole":     {inMM(210, 297, "CUT", a5+hole21), on(a4, nil), size.PieceQuestionID, size.AnswerPieces, 148, 210},
		"A5 on the page layer":           {inMM(210, 297, "PAGE", a5, "CUT", hole21), on(a4, nil), "", "", 21, 21},
		"42 × 59.4 under mm":             {inMM(210, 297, "CUT", "M10 10h42v59.4h-42Z"+hole21), on(a4, nil), size.QuestionID, size.AnswerPiece, 42, 59.4},
		"21 × 29.7 under mm, page layer": {inMM(210, 297, "PAGE", "M0 0h21v29.7h-21Z", "CUT", "M3 3h9v9h-9Z"), on(a4, nil), size.QuestionID, "A4.centimetres_read_as_mm", 90, 90},
		"a declared frame, 97 %":         {inMM(297, 420, "CUT", page97+cut97), on(a3, func(r *size.Request) { r.Frame = "A4" }), "", "", 100, 50},
		"a declared letter":              {inMM(297, 420, "CUT", "M0 0h209.423v271.018h-209.423Z"+cut97), on(a3, func(r *size.Request) { r.Frame = "8.5x11IN" }), "", "", 100, 50},
		"letter by name":                 {inMM(297, 420, "L0", "M0 0h215.9v279.4h-215.9Z", "CUT", bank), on(a3, nil), "", "", 85.6, 54},
		"B5 by name":                     {inMM(297, 420, "L0", "M0 0h176v250h-176Z", "CUT", bank), on(a3, nil), "", "", 85.6, 54},
		"B5 pulled by 9 % one way":       {inMM(297, 420, "L0", "M0 0h160.37v250h-160.37Z", "CUT", bank), on(a3, nil), size.QuestionID, "B5.per_axis", 85.6 * 176 / 160.37, 54},
		"round corners":                  {inMM(297, 420, "PAGE", "M5 0H205A5 5 0 0 1 210 5V292A5 5 0 0 1 205 297H5A5 5 0 0 1 0 292V5A5 5 0 0 1 5 0Z", "CUT", bank), on(a3, nil), "", "", 85.6, 54},
		"a margin frame":                 {inMM(210, 297, "L0", margin, "CUT", bank), on(a4, nil), size.PieceQuestionID, size.AnswerFrames, 85.6, 54},
		"a margin frame on its layer":    {inMM(210, 297, "PAGE", margin, "CUT", bank), on(a4, nil), "", "", 85.6, 54},
		"a stray and a declared width":   {inMM(800, 297, "CUT", bank+tinyAt), on(workshop.Stock{}, func(r *size.Request) { r.KnownLength = &size.KnownLength{Of: size.Width, MM: 60} }), "", "", 60, 54 * 60 / 85.6},
		"three frames":                   {inMM(600, 420, "PAGE", twoA4+beside, "CUT", bank+inside), on(a4, nil), size.PagesQuestionID, size.AnswerAllPages, 300, 74},
		"A4 and A3":                      {inMM(600, 420, "PAGE", twoA4+large, "CUT", bank+inside), on(a3, nil), size.PagesQuestionID, size.AnswerAllPages, 300, 74},
	} {
		t.Run(name, func(t *testing.T) {
			_, res := sizeOf(t, tt.file, tt.req)
			if tt.asks == "" {
				settled(t, res, tt.w, tt.h, 0.01)
				return
			}
			if len(res.Questions) == 0 {
				t.Fatalf("settled as %g × %g: %s", res.WidthMM, res.HeightMM, res.Why)
			}
			if q := res.Questions[0]; q.ID != tt.asks || q.Answers[0].ID != tt.first {
				t.Fatalf("asks %s: %v", q.ID, answers(res))
			}
			first := res.Questions[0].Answers[0]
			tt.req.Replies = ask.Replies{tt.asks: {Answer: tt.first}}
			_, res = sizeOf(t, tt.file, tt.req)
			settled(t, res, tt.w, tt.h, 0.01)
			if math.Abs(first.WidthMM-res.WidthMM) > 1e-6 || math.Abs(first.HeightMM-res.HeightMM) > 1e-6 {
				t.Errorf("the answer says %g × %g, and gives %g × %g", first.WidthMM, first.HeightMM, res.WidthMM, res.HeightMM)
			}
		})
	}
}

// The background of a page, slightly off a paper's size, stretches nothing. The
// near miss is a drawn frame of that size.
func TestBackgroundIsNoFrame(t *testing.T) {
	req := size.Request{Stock: cardOf("A4", 210, 297)}
	file := inMM(210.26, 297.1, "work", bank)
	ground := strings.Replace(file, `<g id="work">`, `<path d="`+nearA4+`" fill="#fff" stroke="none"/><g id="work">`, 1)
	_, res := sizeOf(t, ground, req)
	settled(t, res, 85.6, 54, 1e-6)
	plain := `<path d="M0 0h230v300h-230Z" fill="#fff" stroke="none"/>` // of no paper's size, and larger than the sheet
	file = strings.Replace(inMM(230, 300, "work", bank), `<g id="work">`, plain+`<g id="work">`, 1)
	_, res = sizeOf(t, file, req)
	settled(t, res, 85.6, 54, 1e-6)
	drawn := inMM(400, 400, "L0", nearA4, "work", bank)
	_, res = sizeOf(t, drawn, req)
	if len(res.Questions) == 0 {
		t.Errorf("settled: %s", res.Why)
	}
}

// Rectangles on the cut layer that hold the same work are rather copies of a
// piece, others rather pages. From memory: people repeat a tag, and draw a page
// for each drawing.
func TestCopiesOrPages(t *testing.T) {
	req := size.Request{Stock: cardOf("A2", 420, 594), WorkLayers: []string{"CUT"}}
	const tags = "M0 0h148v210h-148Z M160 0h148v210h-148Z M20 30h21v21h-21Z"
	for name, tt := range map[string]struct{ second, first string }{
		"copies":         {"M180 30h21v21h-21Z", size.AnswerPieces},
		"nearly copies":  {"M180.01 30h21v21h-21Z", size.AnswerPieces},
		"elsewhere":      {"M183 30h21v21h-21Z", size.AnswerFrames},
		"one thing more": {"M180 30h21v21h-21Z M210 80h9v9h-9Z", size.AnswerFrames},
	} {
		_, res := sizeOf(t, inMM(420, 297, "CUT", tags+tt.second), req)
		if len(res.Questions) == 0 || res.Questions[0].ID != size.PieceQuestionID || res.Questions[0].Answers[0].ID != tt.first {
			t.Errorf("%s: %v, want %s first", name, res.Questions, tt.first)
		}
	}
}

// A line of another look on one of several frames is asked about as on a single one, and
// only where it counts: it may be the edge of a piece. One drawn like its frame is that
// frame drawn twice. Lengths by hand: work from 30 to 115.6 in the first, from 270 to 330 in
// the second, which begins at 250; in points the second work begins 20/2.8346 = 7.056 mm
// from its frame, side by side with the first.
func TestBorderOnOneOfSeveralFrames(t *testing.T) {
	const (
		inPoints = "M250 0h595.2756v841.8898h-595.2756Z"
		at       = "M270 20h170.0787v113.3858h-170.0787Z" // 60 × 40 in points
	)
	plain := inMM(600, 420, "PAGE", twoA4+beside, "CUT", beside+bank+inside)
	points := inMM(900, 900, "PAGE", twoA4+inPoints, "CUT", inPoints+bank+at)
	twice := inMM(600, 420, "PAGE", twoA4+beside+beside, "CUT", bank+inside)
	for _, c := range []struct {
		file, page, border string
		asks               bool
		parts              int // lines that are frame and not cut
		w, h               float64
	}{
		{plain, "page_1", "", false, 1, 85.6, 54}, {plain, "page_2", "", true, 0, 0, 0},
		{plain, "page_2", size.AnswerCutBorder, false, 1, 210, 297}, {plain, "page_2", size.AnswerFrameOnly, false, 2, 60, 40},
		{plain, size.AnswerAllPages, "", true, 0, 0, 0},
		{plain, size.AnswerAllPages, size.AnswerCutBorder, false, 2, 430, 297}, {plain, size.AnswerAllPages, size.AnswerFrameOnly, false, 3, 300, 74},
		{points, size.AnswerAllPages, "", true, 0, 0, 0}, {points, size.AnswerAllPages, size.AnswerCutBorder, false, 2, 390, 297},
		{points, size.AnswerAllPages, size.AnswerFrameOnly, false, 3, 240 + 7.0556, 94 - 7.0556},
		{twice, "page_2", "", false, 2, 60, 40}, {twice, size.AnswerAllPages, "", false, 3, 300, 74},
	} {
		req := size.Request{Stock: cardOf("A2", 420, 594), FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}, Replies: ask.Replies{size.PagesQuestionID: {Answer: c.page}}}
		if c.border != "" {
			req.Replies[size.BorderQuestionID] = ask.Reply{Answer: c.border}
		}
		_, res := sizeOf(t, c.file, req)
		if asks := len(res.Questions) == 1 && res.Questions[0].ID == size.BorderQuestionID && slices.Contains(codes(res), finding.FrameBorder); asks != c.asks {
			t.Errorf("%s, border %q: asks %v, finds %v", c.page, c.border, res.Questions, codes(res))
		} else if !asks {
			settled(t, res, c.w, c.h, 1e-3)
			if len(res.FrameParts) != c.parts {
				t.Errorf("%s, border %q: frame parts %v, want %d", c.page, c.border, res.FrameParts, c.parts)
			}
		}
	}
}

// One drawing of several is made alone, and measures what its size says.
func TestOneOfSeveralDrawings(t *testing.T) {
	req := size.Request{Stock: cardOf("A4", 210, 297), FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}}
	file := inMM(600, 420, "PAGE", twoA4+beside, "CUT", bank+inside)
	for answer, want := range map[string][2]float64{"page_1": {85.6, 54}, "page_2": {60, 40}, size.AnswerAllPages: {300, 74}} {
		req.Replies = ask.Replies{size.PagesQuestionID: {Answer: answer}}
		d, res := sizeOf(t, file, req)
		settled(t, res, want[0], want[1], 1e-6)
		rules := workshop.Convention{Rules: []workshop.Rule{{Layer: "CUT", Means: workshop.MeansCut}}}
		a, err := meaning.Resolve(t.Context(), &d.Drawing, res, meaning.Request{Convention: rules, Stock: req.Stock, Purpose: "pieces"})
		if err != nil {
			t.Fatal(err)
		}
		if w, h := a.Bounds.Width(), a.Bounds.Height(); math.Abs(w-want[0]) > 1e-6 || math.Abs(h-want[1]) > 1e-6 {
			t.Errorf("%s: the artwork is %g × %g, want %v", answer, w, h, want)
		}
	}
}

// No label shows a factor, a residual or a brace, nor more than a tenth of a mm.
func TestLabelsForStudents(t *testing.T) {
	_, res := sizeOf(t, inMM(297, 420, "PAGE", page97, "CUT", cut97), size.Request{Stock: cardOf("A3", 297, 420), FrameLayers: []string{"PAGE"}})
	for _, a := range res.Questions[0].Answers {
		if strings.ContainsAny(a.Label, "{}") || strings.Contains(a.Label, "factor") {
			t.Errorf("%s: %q", a.ID, a.Label)
		}
	}
	if got, want := res.Questions[0].Answers[1].Label, "The frame is A3: your work is 141.4 × 70.7 mm"; !strings.Contains(fmt.Sprint(res.Questions[0].Answers), want) {
		t.Errorf("%q, want %q among the labels", got, want)
	}
}

// A rectangle that is a piece after its length was given is cut. The near miss is
// that it is a frame.
func TestPieceOfGivenLength(t *testing.T) {
	req := size.Request{Stock: cardOf("A3", 297, 420), WorkLayers: []string{"CUT"}}
	file := inMM(297, 420, "L0", "M0 0h203.7v288.09h-203.7Z", "CUT", cut97)
	for answer, parts := range map[string]int{size.AnswerPieces: 0, size.AnswerFrames: 1} {
		req.Replies = ask.Replies{size.QuestionID: {Answer: size.AnswerFrame, MM: 290}}
		_, res := sizeOf(t, file, req)
		if len(res.Questions) != 1 || res.Questions[0].ID != size.PieceQuestionID {
			t.Fatalf("questions %v", res.Questions)
		}
		req.Replies[size.PieceQuestionID] = ask.Reply{Answer: answer}
		_, res = sizeOf(t, file, req)
		if len(res.Questions) > 0 || len(res.FrameParts) != parts {
			t.Errorf("%s: frame parts %v, questions %v", answer, res.FrameParts, res.Questions)
		}
		k := 290 / 288.09
		if want := map[string]float64{size.AnswerPieces: 203.7 * k, size.AnswerFrames: 97 * k}[answer]; math.Abs(res.WidthMM-want) > 1e-6 {
			t.Errorf("%s: %g wide, want %g", answer, res.WidthMM, want)
		}
	}
}
