package view_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// Each film of three says what lies under it and on it, and how it is put up; the order
// names the one that is cut, its price, or how the plan of another stands.
func TestFilmsOfAStack(t *testing.T) {
	for _, c := range []struct {
		place       int
		meet        artwork.Meeting
		turn, apply string
		order       string
	}{
		{1, artwork.Underlap, "1 of 3, under Red film by 0.8 mm", "Put this film up first; its register marks stay on until the last film is up.",
			"1. Blue film (this plan), £4.10; 2. Red film, asking; 3. White film"},
		{2, artwork.Underlap, "2 of 3, on Blue film, under White film by 0.8 mm", "Put this film up after Blue film, each register mark on the one below; the marks stay on.",
			"1. Blue film, £4.10; 2. Red film (this plan), asking; 3. White film"},
		{3, artwork.Underlap, "3 of 3, on Red film", "Put this film up last, each register mark on the one below; then take all marks off.",
			"1. Blue film, £4.10; 2. Red film, asking; 3. White film (this plan)"},
		{2, artwork.KnockOut, "2 of 3, on Blue film, under White film", "Put this film up after Blue film, each register mark on the one below; the marks stay on.",
			"1. Blue film, £4.10; 2. Red film (this plan), asking; 3. White film"},
	} {
		s := &view.Stack{Place: c.place, Meet: c.meet, UnderlapMM: 0.8, Films: []view.StackFilm{
			{Name: "Blue film", Price: "£4.10", Status: plan.Ready}, {Name: "Red film", Status: plan.Asking}, {Name: "White film", Status: plan.Ready},
		}}
		for got, want := range map[string]string{s.Turn(): c.turn, s.Apply(): c.apply, s.Order(): c.order} {
			if got != want {
				t.Errorf("film %d, %s: %q, want %q", c.place, c.meet, got, want)
			}
		}
	}
}

// How films meet is told by the way in which they do.
func TestEdgesOfFilms(t *testing.T) {
	for meet, want := range map[artwork.Meeting]string{
		artwork.Underlap: "Lower films go on 0.8 mm under the edges of those on them.", artwork.Whole: "Lower films go on wholly under those on them.",
		artwork.KnockOut: "The films meet edge to edge: where one is put up out of place, a gap shows.",
	} {
		if got := (&view.Stack{Meet: meet, UnderlapMM: 0.8}).Edges(); got != want {
			t.Errorf("%s: %q, want %q", meet, got, want)
		}
	}
}

// The digest of a film's artwork tells all films, with which of them it is, and what is made
// of all; in the view each has the plan that cuts it and the rules by which it was asked for,
// and priced, the price of its plan and what all take. Work of one film has no stack.
func TestStackOfAPlan(t *testing.T) {
	teal := drawing.Colour{G: 0x7c, B: 0x91}
	a := &artwork.Artwork{Strokes: make([]artwork.Stroke, 3), Bounds: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(90, 60)), Stack: &artwork.Stack{
		Layers: []artwork.Layer{{Film: 2, Stock: "s2", Name: "Blue film", Colour: &teal, AreaMM2: 500, ShownMM2: 300}, {Film: 1, Stock: "s1", Name: "Red film", AreaMM2: 200, ShownMM2: 200}, {Film: 3, Stock: "s3", Name: "White film"}},
		At:     1, Meet: artwork.Underlap, UnderlapMM: 0.8, Marks: make([]geometry.Path, 3), Work: geometry.BoxAround(geometry.Pt(5, 5), geometry.Pt(85, 55)),
	}}
	d := view.OfArtwork(a)
	if *d.Made != [2]float64{80, 50} || d.Counts.Strokes != 3 {
		t.Errorf("made is %v of %d lines", *d.Made, d.Counts.Strokes)
	}
	rules := []films.Rule{{Layer: "RED"}}
	request := &plan.Request{FilmPlans: []string{"plan-1", "plan-2"}, Layering: &films.Layering{Films: []films.Film{{Rules: rules}}}}
	got := view.Gather(plan.Ready, request, nil, ofDigests(d)).Stack
	want := &view.Stack{Place: 2, Meet: artwork.Underlap, UnderlapMM: 0.8, Marks: 3, Films: []view.StackFilm{
		{Film: 2, Stock: "s2", Name: "Blue film", Colour: "#007c91", Plan: "plan-2", AreaMM2: 500, ShownMM2: 300},
		{Film: 1, Stock: "s1", Name: "Red film", Plan: "plan-1", Rules: rules, AreaMM2: 200, ShownMM2: 200}, {Film: 3, Stock: "s3", Name: "White film"},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the stack is %s", diff)
	}
	half := func() *estimate.Estimate {
		return &estimate.Estimate{TotalText: "2.50 credit", TotalMinor: 250, Currency: "credit", MinorDigits: 2}
	}
	priced := got.Priced([]view.FilmPlan{{plan.Ready, half()}, {plan.Working, nil}, {plan.Ready, half()}})
	if priced.Together != nil || priced.Films[0].Price != "2.50 credit" || priced.Films[1].Price != "" || priced.Films[1].Status != plan.Working || got.Films[0].Price != "" {
		t.Errorf("with a film that has no price: %+v", priced)
	}
	if all := got.Priced([]view.FilmPlan{{plan.Ready, half()}, {plan.Ready, half()}, {plan.Ready, half()}}); all.Together == nil || all.Together.TotalText != "7.50 credit" {
		t.Errorf("together: %+v", all.Together)
	}
	a.Stack = nil
	if d := view.OfArtwork(a); d.Stack != nil || *d.Made != [2]float64{90, 60} {
		t.Errorf("of one film: %+v, %v", d.Stack, *d.Made)
	}
	a.Questions = make([]ask.Question, 1)
	if d := view.OfArtwork(a); d.Made != nil {
		t.Errorf("while something is asked, made is %v", *d.Made)
	}
}

// The first lines of a summary say how many copies are made, or what of the work is cut
// once more.
func TestSummarySaysHowMany(t *testing.T) {
	for want, r := range map[string]view.Request{
		"request    3 × pieces on Card":                           {Copies: 3},
		"request    again 2 whole × pieces on Card":               {Copies: 2, Again: []layout.Again{{Copies: 2}}},
		"request    again 1 of piece 4 × pieces on Card":          {Copies: 1, Again: []layout.Again{{Copies: 1, Piece: 4}}},
		"request    again 2 whole, 3 of piece 1 × pieces on Card": {Copies: 3, Again: []layout.Again{{Copies: 2}, {Copies: 3, Piece: 1}}},
		"request    again 3 of piece 1, 1 whole × pieces on Card": {Copies: 3, Again: []layout.Again{{Copies: 3, Piece: 1}, {Copies: 1}}},
	} {
		r.Purpose, r.StockName = "pieces", "Card"
		if text := view.Text(plan.Ready, &view.Plan{Request: r}, nil); !strings.Contains(text, "\n"+want+"\n") {
			t.Errorf("no line %q in\n%s", want, text)
		}
	}
}
