package size_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// dimensioned is a plate of 60 × 40 with a hole, in a frame of A4 where framed says
// so, with dimensions of the plate: its width, and then its height.
func dimensioned(t *testing.T, unit int, framed bool, texts ...string) *drawing.Drawing {
	t.Helper()
	const rect = "0 LWPOLYLINE 8 %s 90 4 70 1 10 %g 20 %g 10 %g 20 %[3]g 10 %[4]g 20 %[5]g 10 %[2]g 20 %[5]g "
	text := fmt.Sprintf("0 SECTION 2 HEADER 9 $ACADVER 1 AC1015 9 $INSUNITS 70 %d 0 ENDSEC 0 SECTION 2 ENTITIES ", unit) +
		fmt.Sprintf(rect, "CUT", 20.0, 20.0, 80.0, 60.0) + "0 CIRCLE 8 CUT 10 40 20 40 40 8 "
	if framed {
		text += fmt.Sprintf(rect, "PAGE", 0.0, 0.0, 210.0, 297.0)
	}
	for i, said := range texts {
		text += "0 DIMENSION 8 NOTES 70 1 13 20 23 20 " + []string{"14 80 24 20", "14 20 24 60"}[i] + " 1 " + said + " "
	}
	d, err := dxf.Read(t.Context(), strings.NewReader(strings.ReplaceAll(text+"0 ENDSEC 0 EOF", " ", "\n")), dxf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func onFilm(t *testing.T) size.Request {
	t.Helper()
	data := workshop.Example()
	stock, ok := data.Stock("film-removable-610")
	if !ok {
		t.Fatal("no such stock")
	}
	return size.Request{FrameLayers: []string{"PAGE"}, WorkLayers: []string{"CUT"}, NotesLayers: []string{"NOTES"}, Stock: stock}
}

// Dimensions are evidence: where all say another size than the file and its frame, the
// drawing was made to a scale or its dimensions were typed over, which only who drew it
// knows. One that says what is drawn speaks for the rest; what was typed is rounded.
func TestDimensionsAgainstTheFile(t *testing.T) {
	for name, c := range map[string]struct {
		unit   int
		framed bool
		texts  []string
		first  string // of the answers; empty: it is not asked
		width  float64
	}{
		"none":                               {4, false, nil, "", 60},
		"what is drawn":                      {4, false, []string{"60"}, "", 60},
		"what is drawn, rounded":             {4, false, []string{"60.4"}, "dimensions", 60.4},
		"rounded to whole mm":                {4, true, []string{"60", "40mm"}, "", 60},
		"in centimetres":                     {4, false, []string{"6"}, "", 60},
		"half as large":                      {4, false, []string{"120", "80"}, "dimensions", 120},
		"half as large, in a frame":          {4, true, []string{"120", "80"}, "dimensions", 120},
		"ten times as large, by the width":   {4, false, []string{"600"}, "dimensions", 600},
		"to no scale":                        {4, false, []string{"63"}, "dimensions", 63},
		"one of two":                         {4, false, []string{"120", "40"}, "", 60},
		"no unit, the number that is drawn":  {0, false, []string{"60"}, "known_width", 0},
		"no unit, and that in mm":            {0, false, []string{"60mm"}, "dimensions.piece", 60},
		"no unit, and that in centimetres":   {0, false, []string{"60cm"}, "dimensions.piece", 600},
		"no unit, another number":            {0, false, []string{"120"}, "dimensions.piece", 120},
		"no unit, and a frame that says it":  {0, true, []string{"60mm"}, "", 60},
		"half as large, but for one":         {4, false, []string{"120", "<>"}, "", 60},
		"no unit, a frame that is too small": {0, true, []string{"120mm"}, "dimensions", 120},
	} {
		req := onFilm(t)
		res := repair(t, dimensioned(t, c.unit, c.framed, c.texts...), req)
		if c.first == "" {
			if len(res.Questions) > 0 || !close3(res.WidthMM, c.width) {
				t.Errorf("%s: %.3f mm wide, asks %v", name, res.WidthMM, res.Questions)
			}
			continue
		}
		if len(res.Questions) != 1 {
			t.Errorf("%s: %d questions", name, len(res.Questions))
			continue
		}
		first := res.Questions[0].Answers[0]
		if first.ID != c.first || c.width > 0 && !close3(first.WidthMM, c.width) {
			t.Errorf("%s: first %s, %.3f mm wide", name, first.ID, first.WidthMM)
		}
		if c.unit > 0 && !slices.Contains(codes(res), finding.SizeDimensions) {
			t.Errorf("%s: %v", name, codes(res))
		}
		if first.NeedsMM {
			continue
		}
		req.Replies = ask.Replies{size.QuestionID: {Answer: c.first}}
		if res = repair(t, dimensioned(t, c.unit, c.framed, c.texts...), req); len(res.Questions) > 0 || !close3(res.WidthMM, c.width) {
			t.Errorf("%s: answered, %.3f mm wide, asks %v", name, res.WidthMM, res.Questions)
		}
	}
}

// What the caller says of the drawing goes before its dimensions.
func TestWordsBeforeDimensions(t *testing.T) {
	for name, change := range map[string]func(*size.Request){
		"unit":  func(r *size.Request) { r.Unit = "mm" },
		"frame": func(r *size.Request) { r.Frame = "A4" },
		"width": func(r *size.Request) { r.KnownLength = &size.KnownLength{Of: size.Width, MM: 60} },
	} {
		req := onFilm(t)
		change(&req)
		if res := repair(t, dimensioned(t, 4, true, "120"), req); len(res.Questions) > 0 || !close3(res.WidthMM, 60) {
			t.Errorf("%s: %.3f mm wide, asks %v", name, res.WidthMM, res.Questions)
		}
	}
}

func close3(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }
