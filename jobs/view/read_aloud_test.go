package view_test

import (
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
)

// What a plan of card says holds no word of film, whatever state it is in, no nought and
// no length below nought: read by one who stands at the bench in the first week.
func TestTextOfCardHasNoWordsOfFilm(t *testing.T) {
	page := func(d string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297"><g id="PAGE" fill="none" stroke="#909090"><rect width="210" height="297"/></g><g id="CUT" fill="none" stroke="#007c91"><path d="` + d + `"/></g></svg>`
	}
	film := regexp.MustCompile(`(?i)\b(counters?|grounds?|film|liner|peel|weed)\b`)
	nought := regexp.MustCompile(`(^|[ (])-?0 (min|mm of|to)|\(0 to| -\d+ mm|× 0 mm`)
	for name, c := range map[string]struct {
		file   string
		copies int
		status plan.Status
		says   string
	}{
		"a hole":          {page("M30 40h80v60h-80zM50 60h20v20h-20z"), 3, plan.Ready, "1 opening is pushed out, of each copy\n"},
		"one copy":        {page("M30 40h80v60h-80zM50 60h20v20h-20z"), 1, plan.Ready, "1 opening is pushed out\n"},
		"a part in it":    {page("M30 40h80v60h-80zM50 60h30v30h-30zM58 68h12v12h-12z"), 1, plan.Asking, "1 opening is pushed out\n"},
		"a thin bar":      {page("M30 40h80v60h-80zM40 50h30v40h-30zM71.2 50h30v40h-30z"), 1, plan.Asking, "2 openings are pushed out\n"},
		"an open outline": {page("M30 40H110V100H30V45"), 1, plan.Ready, "bench      up to 1 min, book"},
		"a sharp corner":  {page("M30 40L120 45L30 50Z"), 1, plan.Ready, "easily bent when you lift the work off the mat"},
	} {
		p := planOfFile(t, c.file, plan.Choices{Stock: "card-220-a4", Copies: c.copies})
		text, _, _ := strings.Cut(p.text(), "\ncaution")
		if p.status != c.status || !strings.Contains(text, c.says) {
			t.Errorf("%s, %s: lacks %q:\n%s", name, p.status, c.says, text)
		}
		for _, line := range strings.Split(text, "\n") {
			label, rest, _ := strings.Cut(line, " ")
			if label == weeding.Name {
				line = rest
			}
			if bad := film.FindString(line) + nought.FindString(line); bad != "" || strings.TrimSpace(line) == weeding.Name {
				t.Errorf("%s says %q: %s", name, bad, line)
			}
		}
	}
}

// Places are told from the lower left corner of the work, also beyond its edges, and each
// once.
func TestWhere(t *testing.T) {
	at := func(x, y float64) finding.Place {
		return finding.Place{Box: geometry.Box{Min: geometry.Pt(x-1, y-1), Max: geometry.Pt(x+1, y+1)}}
	}
	for want, places := range map[string][]finding.Place{
		"75 mm from the left and 48 mm below the work":                                 {at(75, -48)},
		"20 mm left of the work and 0 mm up":                                           {at(-20, -0.2)},
		"3 mm from the left and 4 mm up; 5 mm from the left and 6 mm up":               {at(3, 4), at(3, 4), at(5, 6)},
		"3 mm from the left and 4 mm up; 5 mm from the left and 6 mm up; 1 more place": {at(3, 4), at(3, 4), at(5, 6), at(7, 8)},
	} {
		if got := view.Where(places); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	asked := &view.Plan{Questions: []ask.Question{{ID: "a/b", Text: "Which?", Answers: []ask.Answer{{ID: "line", Label: "One line", Evidence: "It is one.", WidthMM: 80}}}}}
	if text := view.Text(plan.Asking, asked, nil); !strings.Contains(text, "Only straight lines are then left, 80 mm long at most.") {
		t.Error(text)
	}
}
