package read

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
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
	pageN   = "page-"   // and the number of a page
)

// asReadGroup is the ID of the group of the questions whether the drawing is
// used as it was read.
const asReadGroup = Name + "/as_read"

// pageQuestion is the ID of the question which page to cut.
const pageQuestion = Name + "/page"

// maxPagesOffered bounds the answers to it.
const maxPagesOffered = 30

// page returns which page of a file is wanted, 0 where that is open.
func (r Request) page() int {
	if r.Page > 0 {
		return r.Page
	}
	n, _ := strconv.Atoi(strings.TrimPrefix(r.Replies[pageQuestion].Answer, pageN))
	return max(n, 0)
}

// awaitPage leaves of the findings those about the file, as long as the page is
// open: a cover of text says nothing about the page that is to be cut.
func (r *Result) awaitPage() {
	if r.pages() < 2 {
		return
	}
	r.Findings = slices.DeleteFunc(r.Findings, func(f finding.Finding) bool {
		switch f.Code {
		case finding.SeveralPages, finding.StreamMended, finding.Truncated:
			return false
		}
		return true
	})
}

// settle asks about each finding that only a person can decide, and carries
// out what was answered.
func (r *Result) settle(b *budget.Budget, replies ask.Replies) {
	r.awaitPage()
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Severity != finding.Ask {
			continue
		}
		q := r.question(*f)
		given, _ := replies.To(&q, asReadGroup)
		switch given.ID {
		case goOn:
			*f = f.Answered(labelOf(&q, goOn))
		case refuse:
			*f = f.As(finding.Block)
		case visible:
			*f = r.cutAtClips(b, f.Answered(labelOf(&q, visible)))
		default:
			r.Questions = append(r.Questions, q)
		}
	}
	r.Questions = screen(r.Questions)
}

// labelOf is how an answer to q is put.
func labelOf(q *ask.Question, id string) string {
	for _, a := range q.Answers {
		if a.ID == id {
			return a.Label
		}
	}
	return id
}

// screen returns the questions that are asked at once: which page alone, since
// the others are about the page that was read; else one question, or one group
// that is answered at once.
func screen(open []ask.Question) []ask.Question {
	for _, q := range open {
		if q.ID == pageQuestion {
			return []ask.Question{q}
		}
	}
	return ask.Bounded(open, 1, ask.Question{
		ID:   asReadGroup,
		Text: "Some things in the file are hidden, damaged or not cut. Is the drawing right as its picture shows it?",
		Answers: []ask.Answer{
			{ID: goOn, Label: "It is right: go on with what the picture shows", Evidence: "Look at the marked places of the picture first."},
			{ID: refuse, Label: "It is not: I put right what the questions below name, and send the drawing again", Evidence: "Nothing is cut until then."},
		},
	})
}

// remedy says what is done to the drawing for a fault before it is sent again.
func remedy(f *finding.Finding) string {
	switch f.Code {
	case finding.ClipPathUsed:
		return f.Fill("Neither: I trim the clipped {count:shape|shapes} to what is to be cut")
	case finding.MaskUsed:
		return "It is not: I remove the mask"
	case finding.PathDataBroken:
		return f.Fill("It is not: I draw the damaged {count:outline|outlines} anew")
	case finding.ValueUnreadable:
		return "It is not: I ungroup the shapes that lie in the wrong place"
	case finding.PercentUnresolved:
		return "It is not: I give the page a width and a height"
	case finding.AnnotationDrawn:
		return f.Fill("It is not: I delete the {count:comment, stamp or form field|comments, stamps or form fields}")
	case finding.HatchListed:
		return f.Fill("It is not: I draw the {count:edge of the area as a line|edges of the areas as lines}")
	}
	return "It is not: I draw anew what is wrong in the marked places"
}

func (r *Result) question(f finding.Finding) ask.Question {
	if f.Code == finding.SeveralPages {
		return pagesQuestion(r.pages())
	}
	q := ask.Question{
		ID: ask.ID(Name, string(f.Code)), Code: f.Code, Places: f.Places,
		Text: f.Hint + " Or is the drawing right as its picture shows it?",
		Answers: []ask.Answer{
			{ID: goOn, Label: "It is right: go on with what the picture shows", Evidence: f.TechnicianHint},
			{ID: refuse, Label: remedy(&f) + ", and send the drawing again", Evidence: "Nothing is cut until then."},
		},
	}
	if f.Code == finding.ClipPathUsed {
		q.Text = f.Fill("{count} {count:shape is|shapes are} partly hidden by a clip (a shape that lets only a part of others show). What is to be cut?")
		q.Answers[0].Label, q.Answers[0].Evidence = "The whole outlines", "The hidden parts are cut too."
		shown := ask.Answer{ID: visible, Label: "Only what shows", Evidence: "Outlines are cut off where the clip ends; curves that it crosses become short straight pieces."}
		q.Answers = append([]ask.Answer{shown}, q.Answers...)
	}
	return q
}

// pages returns how many pages the file has, as far as a note tells.
func (r *Result) pages() int {
	for _, n := range r.Notes {
		if n.Code == drawing.SeveralPages {
			return n.Pages
		}
	}
	return 0
}

func pagesQuestion(pages int) ask.Question {
	q := ask.Question{ID: pageQuestion, Code: finding.SeveralPages, Text: fmt.Sprintf("The file has %d pages. Which one is to be cut?", pages)}
	for n := 1; n <= min(pages, maxPagesOffered); n++ {
		q.Answers = append(q.Answers, ask.Answer{ID: fmt.Sprint(pageN, n), Label: fmt.Sprintf("Page %d", n), Evidence: "One page is cut at a time."})
	}
	return q
}

// cutAtClips leaves of clipped shapes what shows. Chords stray by at most the
// usual tolerance at the size the file states.
func (r *Result) cutAtClips(b *budget.Budget, f finding.Finding) finding.Finding {
	chord := geometry.DefaultChord
	if r.Unit.MM > 0 {
		chord /= r.Unit.MM
	}
	cut, whole := clip.Visible(b, &r.Drawing, chord)
	effect := finding.Fill("{count} {count:shape is|shapes are} cut off where the clip ends.", finding.Values{"count": finding.Int(cut)})
	if whole > 0 {
		return f.As(finding.Block).WithMend(finding.Mend{ID: "read.clip", Effect: finding.Fill("{count} {count:shape is|shapes are} too intricate to be cut off at a clip.", finding.Values{"count": finding.Int(whole)})})
	}
	return f.As(finding.Mended).WithMend(finding.Mend{ID: "read.clip", Applied: true, Effect: effect})
}
