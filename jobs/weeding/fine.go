package weeding

import (
	"strings"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// IDs of the questions about what is finer than the stock holds, and of their
// answers.
const (
	QuestionRefused = Name + "/below_limit" // refused; staff may let it pass
	QuestionRisk    = Name + "/risk"        // a short stretch, on the maker's risk
	AnswerRedraw    = "redraw"
	AnswerWaive     = "waive"
	AnswerAccept    = "accept"
)

// tooFine is what is below the last limits of the stock.
type tooFine struct {
	thin    *finding.Finding // stretches and parts that are too thin
	low     *finding.Finding // letters that are too low
	refused bool             // it is so over a length, for a whole part, or for letters
}

func (f tooFine) all() []*finding.Finding {
	var all []*finding.Finding
	for _, one := range []*finding.Finding{f.thin, f.low} {
		if one != nil {
			all = append(all, one)
		}
	}
	return all
}

// settle decides about what is too fine: refused, unless staff let it pass with
// a reason, or, where only short stretches are, cut on the risk of its maker. One
// question decides about all of it.
func (s weighing) settle(f tooFine) {
	all := f.all()
	if len(all) == 0 {
		return
	}
	q := askRisk(all[0])
	if f.refused {
		q = askRefused(all[0])
	}
	switch reply := s.req.Replies[q.ID]; {
	case reply.Answer == AnswerRedraw:
		s.findAs(all, finding.Block, "")
	case reply.Answer == AnswerWaive && f.refused && strings.TrimSpace(reply.Reason) != "":
		s.risk = "Below the limit of the material, let pass by staff: " + sentence(reply.Reason)
		s.findAs(all, finding.Warn, s.risk)
	case reply.Answer == AnswerAccept && !f.refused:
		s.risk = "Below the limit of the material in short places: its maker accepts that it may tear there."
		s.findAs(all, finding.Warn, s.risk)
	default:
		s.ask(q)
		s.findAs(all, finding.Ask, "")
		if f.refused {
			last := &s.findings[len(s.findings)-len(all)]
			*last = last.As(finding.Block)
		}
	}
}

// findAs adds the findings with a severity, and what was decided about them.
func (s weighing) findAs(all []*finding.Finding, as finding.Severity, decided string) {
	for _, f := range all {
		one := f.As(as)
		if decided != "" {
			one = f.Answered(strings.TrimSuffix(decided, ".")).As(as).WithMend(finding.Mend{ID: "below_limit", Applied: true, Effect: decided})
		}
		s.find(one)
	}
}

// sentence ends a text with a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}

// askRefused asks whether what is refused may pass. The question settles the
// first finding and with it all others.
func askRefused(f *finding.Finding) ask.Question {
	return ask.Question{
		ID: QuestionRefused, Code: f.Code, Places: f.Places,
		Text: f.Fill("The marked parts are too fine to be cut from {material}. Will you draw them larger, or has a member of staff agreed to try?"),
		Answers: []ask.Answer{
			{ID: AnswerRedraw, Label: "I draw the marked parts larger, and send the drawing again", Evidence: f.Hint},
			{ID: AnswerWaive, NeedsReason: true, Label: "A member of staff lets it pass and says why", Evidence: "The reason stands in the plan and on the worksheet."},
		},
	}
}

// askRisk asks whether the maker takes the risk of short stretches.
func askRisk(f *finding.Finding) ask.Question {
	return ask.Question{
		ID: QuestionRisk, Code: f.Code, Places: f.Places,
		Text: f.Fill("In {count} short {count:place|places} the {material} may tear. Shall it be cut all the same?"),
		Answers: []ask.Answer{
			{ID: AnswerAccept, Label: "Cut it: it may tear there", Evidence: f.Fill("The narrow stretches are {length_mm} mm long in all; the rest holds.")},
			{ID: AnswerRedraw, Label: "I draw the marked places wider, and send the drawing again", Evidence: f.Hint},
		},
	}
}
