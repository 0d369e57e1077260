package view_test

import (
	"bytes"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// panelledSheet is the film of written as two panels, of which the first bears marks and no
// code.
func panelledSheet(r *view.Results, _ *plan.Request) {
	r.Layout.Maps = []*weeding.Map{r.Weeding, r.Weeding}
	r.Layout.Panels = &layout.Panels{List: []layout.Panel{
		{Code: "P1 of 2", Box: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100.2, 50)), Marks: 2}, {Code: "P2 of 2", Box: geometry.BoxAround(geometry.Pt(90, 0), geometry.Pt(150, 50)), Coded: true},
	}, Join: workshop.Join{Joint: workshop.Overlap}}
	r.Layout.Loads[0].Map, r.Layout.Loads[1].Map = 1, 2
}

// sharedSheet is a load on which copies lie by codes, or by numbers where they have none.
func sharedSheet(codes ...string) func(*view.Results, *plan.Request) {
	return func(r *view.Results, _ *plan.Request) {
		r.Layout.Maps = []*weeding.Map{r.Weeding, r.Weeding}
		l := &r.Layout.Loads[0]
		l.Map = 1
		for i, code := range codes {
			at := geometry.Pt(float64(i%2)*90, float64(i/2)*60)
			number := 1
			if code == "" {
				number = i + 1
			}
			l.Places = append(l.Places, layout.MemberPlace{Code: code, Copy: number, Bounds: geometry.BoxAround(at, at.Add(geometry.Pt(80, 50)))})
		}
	}
}

func filmSheet(r *view.Results, _ *plan.Request) {
	r.Artwork = &artwork.Artwork{Strokes: r.Weeding.Strokes, Bounds: r.Weeding.Bounds, Stack: &artwork.Stack{
		Layers: []artwork.Layer{{Name: "Blue film"}, {Name: "Red film"}}, At: 1, Meet: artwork.Underlap, UnderlapMM: 0.8, Work: r.Weeding.Bounds,
	}}
}

// What is done with a load that is no row of whole copies stands on its page, and nowhere
// else: with a panel, with copies of several drawings or by their numbers, and with one film
// of several. The heading under which work is put up is that of the tape or the press, and
// one of its own where there is neither.
func TestSheetsOfOtherLoads(t *testing.T) {
	bare := func(change func(*view.Results, *plan.Request), family workshop.Family) func(*view.Results, *plan.Request) {
		return func(r *view.Results, q *plan.Request) {
			change(r, q)
			r.Layout.Usage.TapeM, q.Stock.Family = 0, family
		}
	}
	tabbed := func(r *view.Results, q *plan.Request) {
		panelledSheet(r, q)
		r.Layout.Panels.Join.Joint, r.Layout.Panels.List[1].Marks = workshop.Tab, 1
	}
	smaller := func(r *view.Results, _ *plan.Request) { // what is made is told, and not what was measured
		r.Artwork = &artwork.Artwork{Strokes: r.Weeding.Strokes, Bounds: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(70, 40))}
	}
	const (
		keep, glue = "Keep its register marks until the panels lie on each other, then take them off.", "Glue the next panel on so that its edge comes to where the short slits in the tab begin: it covers them."
		hang, on   = "Hang P1 first, the lowest, and each next one over it, so that rain runs over the seams.", "Glue P2 onto the tab of P1, and so on."
		write      = "Write its code on the back of each before it is taken off the sheet."
		up         = "Put this film up last, each register mark on the one below; then take all marks off."
	)
	for _, c := range []struct {
		name   string
		change func(*view.Results, *plan.Request)
		page   int
		has    []string
		lacks  []string
	}{
		{"the first panel", panelledSheet, 0, []string{"Worksheet: load 1 of 2, panel P1 of 2", "Panel P1 of 2, 100.2 × 50 mm", "Mark it P1 of 2 on its back before anything else.", keep, "Tape of medium tack", hang}, []string{glue, on, "Put up", write}},
		{"the second panel", panelledSheet, 1, []string{"Worksheet: load 2 of 2, panel P2 of 2", "Panel P2 of 2, 60 × 50 mm", hang}, []string{"Mark it", keep, glue}},
		{"a panel with a tab", tabbed, 1, []string{glue, on}, []string{"Mark it", keep, hang}},
		{"a panel without tape", bare(panelledSheet, workshop.RemovableFilm), 0, []string{"Put up", hang, "Hand over"}, []string{"Tape of"}},
		{"a panel that is pressed", bare(panelledSheet, workshop.HeatFilm), 0, []string{"Press, by the film's data sheet", hang}, []string{"Put up"}},
		{"copies of several", sharedSheet("07", "12", "31"), 0, []string{"Who is where: rows from the loading edge, each from the left", "Row 1 07, 12", "Row 2 31", write, "3 copies, each with its code: counted"}, []string{"Which copy is where", "of 80 ×", "panel"}},
		{"one copy of another", sharedSheet("07"), 0, []string{"Row 1 07", "1 copy, each with its code: counted"}, []string{"Row 2"}},
		{"the load after it", sharedSheet("07"), 1, nil, []string{"Who is where", write}},
		{"copies by numbers", sharedSheet("", ""), 0, []string{"Which copy is where: rows from the loading edge, each from the left", "2 copies of 80 × 50.3 mm: counted"}, []string{"Who is where", write}},
		{"a film of two", filmSheet, 0, []string{"Worksheet: load 1 of 2, film 2 of 2", "Film 2 of 2, on Blue film", "Tape of", up}, []string{"Put up"}},
		{"work of which lines are left out", smaller, 0, []string{"of 70 × 40 mm: counted"}, []string{"80 × 50"}},
		{"a film without tape", bare(filmSheet, workshop.RemovableFilm), 0, []string{"Put up", up}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, q := written(true)
			c.change(r, q)
			var file bytes.Buffer
			if err := r.Worksheet(t.Context(), &file, view.About{Plan: "b2c1", Request: q}); err != nil {
				t.Fatal(err)
			}
			text := strings.Join(strings.Fields(readPrint(t, file.Bytes()).pages[c.page].raw), " ")
			for _, want := range c.has {
				if !strings.Contains(text, want) {
					t.Errorf("the page lacks %q:\n%s", want, text)
				}
			}
			for _, not := range c.lacks {
				if strings.Contains(text, not) {
					t.Errorf("the page has %q:\n%s", not, text)
				}
			}
		})
	}
}
