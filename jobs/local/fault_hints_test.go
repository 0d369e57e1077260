package local_test

import (
	"regexp"
	"strings"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Marks of a text that was not finished: a placeholder left over, a value that
// does not fit its verb, a number that does not agree with its noun.
var (
	unfilled  = regexp.MustCompile(`[{}]|%!|<nil>|  |\(\)`)
	disagrees = regexp.MustCompile(`(^|[ (])(1 (lines|points|shapes|outlines|places|gaps|pieces|parts|corners|pairs|openings|copies|bridges|regions|islands)|[2-9] (line|point|shape|outline|place|gap|piece|part|corner|pair|opening|copy|bridge|region|island))[ .,:]`)
)

// checkText holds a text for people to being whole sentences.
func checkText(t *testing.T, whose, text string) {
	t.Helper()
	if text == "" || unfilled.MatchString(text) || disagrees.MatchString(text) {
		t.Errorf("%s: %q", whose, text)
	}
	if end := text[max(0, len(text)-1):]; !strings.Contains(".?", end) {
		t.Errorf("%s: %q is no whole sentence", whose, text)
	}
}

// Every text that a fault or its near miss makes people read is finished.
func TestTextsAreFinished(t *testing.T) {
	for _, row := range faults() {
		near := row.desk()
		if row.nearChoice != nil {
			near.choices = *row.nearChoice
		}
		for _, r := range []run{row.desk().run(t, row.with), near.run(t, row.near)} {
			for _, f := range r.findings {
				whose := row.name + ": " + string(f.Code)
				checkText(t, whose, f.Hint)
				checkText(t, whose, f.TechnicianHint)
				if f.Mend != nil {
					checkText(t, whose, f.Mend.Effect)
				}
			}
			for _, q := range r.questions {
				checkQuestion(t, row.name, q)
			}
		}
	}
}

func checkQuestion(t *testing.T, whose string, q ask.Question) {
	t.Helper()
	whose += ": " + q.ID
	checkText(t, whose, q.Text)
	seen := map[string]bool{}
	for _, a := range q.Answers {
		checkText(t, whose, a.Evidence)
		if a.Label == "" || unfilled.MatchString(a.Label) || seen[a.ID] || seen[a.Label] {
			t.Errorf("%s: answer %+v", whose, a)
		}
		seen[a.ID], seen[a.Label] = true, true
	}
}

// A free end in film is told once, by the weeding: that it may be a slit holds
// for card alone.
func TestFreeEndsInFilmAreToldOnce(t *testing.T) {
	for code, tail := range map[finding.Code]string{finding.BoundaryOpen: "M10 15h20", finding.Nick: "M0 15h40.6"} {
		got := desk{workshop.Example(), onFilm}.run(t, cutting("M0 0h40v30h-40z", tail))
		if got.find(code) == nil || got.find(finding.OpenLine) != nil || got.find(finding.Spur) != nil {
			t.Errorf("want %s alone:%s", code, got)
		}
	}
}
