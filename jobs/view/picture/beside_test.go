package picture_test

import (
	"math"
	"os"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

// asksForSize is a drawing of 400 × 200 units whose size is in question.
func asksForSize() (*read.Result, *size.Result) {
	path := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(400, 200)).Path()
	path2 := geometry.Circle(geometry.Pt(100, 100), 60)
	d := &read.Result{Drawing: drawing.Drawing{Shapes: []drawing.Shape{{Paths: []geometry.Path{path, path2}, Stroke: drawing.RGB(0, 0, 0)}}}}
	return d, &size.Result{Transform: geometry.Identity, Questions: []ask.Question{{
		ID: "size/true_size", Code: finding.SizeAmbiguous, Text: "How large is the finished work?",
		Answers: []ask.Answer{
			{ID: "A3", Label: "The frame is A3", WidthMM: 141.4213, HeightMM: 70.71, Evidence: "It fits the stock."},
			{ID: "A4", Label: "The frame is A4", WidthMM: 100, HeightMM: 50},
			{ID: "A0", Label: "The frame is A0", WidthMM: 400, HeightMM: 200},
			{ID: "known_width", Label: "I know the true width", NeedsMM: true, Evidence: "A ruler tells it."},
		},
	}}}
}

// Where the size is asked, the picture shows the work under each answer beside a
// card of 85.6 × 53.98 mm (ISO/IEC 7810, ID-1) at the same scale.
func TestSizesBesideACard(t *testing.T) {
	d, s := asksForSize()
	svg := svgOf(t, must(picture.Size(t.Context(), d, s)))
	if name := os.Getenv("KNIFEDESK_PICTURE"); name != "" {
		if err := os.WriteFile(name, svg, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	all := parse(t, svg)
	said := slices.Concat(texts(all, "drawing"), texts(all, "notes"), texts(all, "legend"))
	for _, want := range []string{"1. 141.4 × 70.7 mm", "2. 100 × 50 mm", "3. 400 × 200 mm", "a bank card, 85.6 × 54 mm", "1. The frame is A3: It fits the stock. Your work is then 141.4 × 70.7 mm.", "4. I know the true width: A ruler tells it."} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not among %q", want, said)
		}
	}
	cards := 0
	for _, e := range all {
		if e.name != "path" || e.zone != "drawing" || e.attrs["d"] == "" {
			continue
		}
		if box := e.paths(t)[0].Bounds(); math.Abs(box.Width()/box.Height()-85.6/53.98) < 0.01 {
			cards++
		}
	}
	if cards != 3 {
		t.Errorf("%d cards are drawn", cards)
	}
}

// Under each answer lies what it speaks of: without what is left out beside the frame, the
// one of several drawings that is named, the parts that are placed too large.
func TestEachAnswerShowsItsOwnLines(t *testing.T) {
	wide := geometry.BoxAround(geometry.Pt(20, 20), geometry.Pt(180, 100))
	high := geometry.BoxAround(geometry.Pt(300, 20), geometry.Pt(340, 140))
	whole := wide.Union(high)
	a := func(id string, b geometry.Box) ask.Answer {
		return ask.Answer{ID: id, Label: id, WidthMM: b.Width() / 2, HeightMM: b.Height() / 2}
	}
	place := func(all ...geometry.Box) (places []finding.Place) {
		for _, b := range all {
			places = append(places, finding.Place{Box: b})
		}
		return places
	}
	many := make([]geometry.Box, finding.MaxPlaces) // more lie beside the frame than are listed
	for i := range many {
		many[i] = geometry.BoxAround(geometry.Pt(300, 20), geometry.Pt(310, 30))
	}
	frame := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(210, 297))
	for name, tt := range map[string]struct {
		q    ask.Question
		want []geometry.Box // the box of what is drawn under each answer, as drawn
	}{
		"beside": {ask.Question{ID: size.BesideQuestionID, Places: place(high), Answers: []ask.Answer{a(size.AnswerLeaveOut, wide), a(size.AnswerCutToo, whole)}}, []geometry.Box{wide, whole}},
		"many":   {ask.Question{ID: size.BesideQuestionID, Places: place(many...), Answers: []ask.Answer{a(size.AnswerLeaveOut, wide)}}, []geometry.Box{wide}},
		"pages":  {ask.Question{ID: size.PagesQuestionID, Places: place(wide.Grow(5), high.Grow(5)), Answers: []ask.Answer{a(size.AnswerAllPages, whole), a("page_1", wide), a("page_2", high)}}, []geometry.Box{whole, wide, high}},
		"nested": {ask.Question{ID: size.NestedQuestionID, Places: place(high), Answers: []ask.Answer{a(size.AnswerAsPlaced, high)}}, []geometry.Box{high}},
	} {
		t.Run(name, func(t *testing.T) {
			d := &read.Result{Drawing: drawing.Drawing{Shapes: []drawing.Shape{{Paths: []geometry.Path{frame.Path(), wide.Path(), high.Path()}, Stroke: drawing.RGB(0, 0, 0)}}}}
			s := &size.Result{Transform: geometry.Scale(0.5, 0.5), FrameParts: []size.Part{{}}, Questions: []ask.Question{tt.q}}
			k := 0
			for _, e := range parse(t, svgOf(t, must(picture.Size(t.Context(), d, s)))) {
				if e.zone != "drawing" || e.attrs["stroke-width"] != "1.6" {
					continue
				}
				got := geometry.EmptyBox()
				for _, q := range e.paths(t) {
					got = got.Union(q.Bounds())
				}
				if k < len(tt.want) && math.Abs(got.Width()/got.Height()/(tt.want[k].Width()/tt.want[k].Height())-1) > 0.001 {
					t.Errorf("answer %d shows lines of %v", k+1, got)
				}
				k++
			}
			if k != len(tt.want) {
				t.Errorf("%d of %d answers show lines", k, len(tt.want))
			}
		})
	}
}
