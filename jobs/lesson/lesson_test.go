package lesson_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/lesson"
)

// Every code of the catalogue has a lesson, and no lesson is of another.
func TestEveryCodeIsTaught(t *testing.T) {
	taught := map[finding.Code]bool{}
	for _, g := range lesson.Groups() {
		for _, l := range g.Lessons {
			if taught[l.Code] {
				t.Errorf("%s is taught twice", l.Code)
			}
			taught[l.Code] = true
		}
	}
	for _, code := range finding.Codes() {
		if !taught[code] {
			t.Errorf("%s is not taught", code)
		}
		delete(taught, code)
	}
	for code := range taught {
		t.Errorf("%s is taught and not in the catalogue", code)
	}
}

// What is told is whole sentences in words that a student knows, and short enough to be
// read. The words of the trade are those that hints are held to.
func TestWordsOfLessons(t *testing.T) {
	trade := regexp.MustCompile(`(?i)\b(strokes?|contours?|tolerance|factors?|vert(ex|ices)|segments?|entit(y|ies)|polylines?|splines?|counter)\b`)
	for _, g := range lesson.Groups() {
		for _, l := range g.Lessons {
			if strings.HasSuffix(l.Title, ".") || len(l.Title) > 60 {
				t.Errorf("%s: the title %q", l.Code, l.Title)
			}
			for _, text := range []string{l.What, l.See, l.Wrong.Says, l.Right.Says} {
				end := text[max(0, len(text)-1):]
				if len(text) < 8 || len(strings.Fields(text)) > 60 || !strings.Contains(".?", end) || trade.MatchString(text) {
					t.Errorf("%s: %q", l.Code, text)
				}
			}
		}
	}
}

// The jobs find the fault in the drawing that shows it, and not in the other. Three faults
// cannot be shown by one drawing: one that the layout prevents and the passes look at once
// more, one of several drawings on common loads, and one that is measured on a test cut.
func TestExamplesShowTheirFault(t *testing.T) {
	list := jobs.NewList()
	for _, g := range lesson.Groups() {
		for _, l := range g.Lessons {
			t.Run(string(l.Code), func(t *testing.T) {
				if l.Wrong.File == "" {
					if !slices.Contains([]finding.Code{finding.WiderThanMachine, finding.MemberLeftOut, finding.LengthsOff}, l.Code) {
						t.Fatal("no drawing")
					}
					return
				}
				wrong, err := l.Wrong.Run(t.Context(), list)
				if err != nil {
					t.Fatal(err)
				}
				right, err := l.Right.Run(t.Context(), list)
				if err != nil {
					t.Fatal(err)
				}
				if wrong.Find(l.Code) == nil {
					t.Errorf("not found: %s", codes(wrong))
				}
				if right.Find(l.Code) != nil {
					t.Errorf("found in the right one too: %s", codes(right))
				}
				for _, f := range right.Findings {
					if f.Severity == finding.Block {
						t.Errorf("the right one is refused for %s: %s", f.Code, f.TechnicianHint)
					}
				}
				checkPictures(t, g, l, wrong, right)
			})
		}
	}
}

func codes(r *lesson.Run) string {
	var all []string
	for _, f := range r.Findings {
		all = append(all, string(f.Code)+" "+string(f.Severity))
	}
	return strings.Join(all, ", ")
}

// checkPictures draws both drawings, for a look by eye into the folder that
// KNIFEDESK_SCREENSHOTS names.
func checkPictures(t *testing.T, g lesson.Group, l lesson.Lesson, wrong, right *lesson.Run) {
	t.Helper()
	pictures, err := lesson.Draw(t.Context(), l.Code, g, wrong, right)
	if err != nil {
		t.Fatal(err)
	}
	if pictures[1] == nil {
		t.Error("the right drawing has no picture")
	}
	for i, p := range pictures {
		if p == nil {
			continue // nothing was read, as of a letter
		}
		body, err := p.SVG(t.Context())
		if err != nil || len(body) > 200_000 {
			t.Fatalf("picture %d: %d bytes, %v", i, len(body), err)
		}
		if folder := os.Getenv("KNIFEDESK_SCREENSHOTS"); folder != "" {
			if err := os.WriteFile(filepath.Join(folder, string(l.Code)+[...]string{"-wrong", "-right"}[i]+".svg"), body, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
