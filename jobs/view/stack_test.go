package view_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
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
