package plan

import (
	"fmt"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/clip"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// The answers to questions about what was read.
const (
	goOn    = "go_on"   // take the drawing as it was read
	refuse  = "refuse"  // it has to be mended and sent again
	visible = "visible" // cut shapes off at their clips
)

// pageQuestion is the ID of the question which page to cut.
const pageQuestion = "read/page"

// maxPagesOffered bounds the answers to it.
const maxPagesOffered = 30

// page returns which page of a file the caller wants, 0 where that is open.
func page(r *Request) int {
	if r.Options.Page > 0 {
		return r.Options.Page
	}
	n, _ := strconv.Atoi(strings.TrimPrefix(r.Replies[pageQuestion].Answer, "page-"))
	return max(n, 0)
}

// settleRead asks about each finding of the reader that only a person can
// decide, and carries out what was answered.
func settleRead(d *drawing.Drawing, replies ask.Replies) {
	for i := range d.Findings {
		f := &d.Findings[i]
		if f.Severity != finding.Ask {
			continue
		}
		q := readQuestion(*f)
		switch replies[q.ID].Answer {
		case goOn:
			*f = f.As(finding.Warn)
		case refuse:
			*f = f.As(finding.Block)
		case visible:
			*f = cutAtClips(d, *f)
		default:
			d.Questions = append(d.Questions, q)
		}
	}
}

func readQuestion(f finding.Finding) ask.Question {
	if f.Code == finding.SeveralPages {
		return pagesQuestion(f)
	}
	q := ask.Question{
		ID: "read/" + string(f.Code), Code: f.Code, Places: f.Places,
		Text: f.TechnicianHint + " Is the drawing to be used as it was read?",
		Answers: []ask.Answer{
			{ID: goOn, Label: "Go on with what was read", Evidence: "The preview of the drawing shows it."},
			{ID: refuse, Label: "Send it back to be mended", Evidence: f.Hint},
		},
	}
	if f.Code == finding.ClipPathUsed {
		q.Text = "Parts of the drawing are hidden by clips. What is to be cut?"
		q.Answers[0].Label, q.Answers[0].Evidence = "The whole outlines", "The hidden parts are cut too."
		shown := ask.Answer{ID: visible, Label: "Only what shows", Evidence: "Outlines are cut off where the clip ends; curves that it crosses become short straight pieces."}
		q.Answers = append([]ask.Answer{shown}, q.Answers...)
	}
	return q
}

func pagesQuestion(f finding.Finding) ask.Question {
	pages, _ := f.Values["pages"].(int)
	q := ask.Question{ID: pageQuestion, Code: f.Code, Text: fmt.Sprintf("The file has %d pages. Which one is to be cut?", pages)}
	for n := 1; n <= min(pages, maxPagesOffered); n++ {
		q.Answers = append(q.Answers, ask.Answer{ID: fmt.Sprintf("page-%d", n), Label: fmt.Sprintf("Page %d", n), Evidence: "One page is cut at a time."})
	}
	return q
}

// cutAtClips leaves of clipped shapes what shows. Chords stray by at most the
// usual tolerance at the size the file states.
func cutAtClips(d *drawing.Drawing, f finding.Finding) finding.Finding {
	chord := geometry.DefaultChord
	if d.Unit.MM > 0 {
		chord /= d.Unit.MM
	}
	cut, whole := clip.Visible(nil, d, chord)
	effect := finding.Fill("{count} {count:shape is|shapes are} cut off where the clip ends.", map[string]any{"count": cut})
	if whole > 0 {
		return f.As(finding.Block).WithMend(finding.Mend{ID: "read.clip", Effect: finding.Fill("{count} {count:shape is|shapes are} too intricate to be cut off at a clip.", map[string]any{"count": whole})})
	}
	return f.As(finding.Mended).WithMend(finding.Mend{ID: "read.clip", Applied: true, Effect: effect})
}
