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

// What people have no use for (the design notes: 0.1 mm for people, exact in
// JSON): a second decimal from 1 mm on and a count of nought; and, for whoever
// drew, factors and the words of the trade.
var (
	manyDecimals = regexp.MustCompile(`(^|[^.\d])[1-9]\d*\.\d{2,} ?(mm|×|m\b)`)
	saysNought   = regexp.MustCompile(`(^|[ (])0 (lines?|points?|shapes?|outlines?|places?|gaps?|pieces?|parts?|openings?|cop(y|ies)|bridges?|regions?|islands?)\b`)
	trade        = regexp.MustCompile(`(?i)\b(strokes?|contours?|CIEDE2000|ΔE|hairline|tolerance|residual|factors?|multiplied|vert(ex|ices)|segments?|entit(y|ies)|polylines?)\b`)
)

// asDrawn is a measure as the drawing program shows it, by which a technician
// tells 210.03 from 210: it keeps its digits.
var asDrawn = regexp.MustCompile(`[\d.]+( × [\d.]+)? mm as drawn`)

// checkWords holds a text to what a person has a use for; a student is who drew.
func checkWords(t *testing.T, whose, text string, student bool) {
	t.Helper()
	if !student {
		text = asDrawn.ReplaceAllString(text, "")
	}
	if manyDecimals.MatchString(text) || saysNought.MatchString(text) || student && trade.MatchString(text) {
		t.Errorf("%s: %q", whose, text)
	}
}

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
		for _, r := range []run{row.desk().runOn(t, row.with, row.measured), near.run(t, row.near)} {
			for _, f := range r.findings {
				whose := row.name + ": " + string(f.Code)
				checkText(t, whose, f.Hint)
				checkText(t, whose, f.TechnicianHint)
				checkWords(t, whose, f.Hint, true)
				checkWords(t, whose, f.TechnicianHint, false)
				if f.Mend != nil {
					checkText(t, whose, f.Mend.Effect)
				}
			}
			for _, q := range ask.All(r.questions) {
				checkQuestion(t, row.name, q)
			}
		}
	}
}

func checkQuestion(t *testing.T, whose string, q ask.Question) {
	t.Helper()
	whose += ": " + q.ID
	checkText(t, whose, q.Text)
	checkWords(t, whose, q.Text, true)
	seen := map[string]bool{}
	for _, a := range q.Answers {
		checkText(t, whose, a.Evidence)
		checkWords(t, whose, a.Label, true)
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
