package api

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

func showFindings(all []finding.Finding) []Finding { return each(all, showFinding) }

func showFinding(f finding.Finding) Finding {
	return Finding{
		Code: string(f.Code), Severity: Severity(f.Severity), Number: f.Number, Count: f.Count,
		Places: each(f.Places, showPlace), Hint: f.Hint, TechnicianHint: f.TechnicianHint,
		Values: showValues(f.Values), Mend: maybe(f.Mend, showMend), Help: helpPath + string(f.Code),
		Answered: f.IsAnswered(),
	}
}

// showValues returns what JSON has as numbers, strings and booleans.
func showValues(all finding.Values) map[string]any {
	out := make(map[string]any, len(all))
	for name, v := range all {
		out[name] = v
	}
	return out
}

func showMend(m finding.Mend) Mend { return Mend{ID: m.ID, Applied: m.Applied, Effect: m.Effect} }

// showPlace leaves the box out where the fault lies nowhere on the sheet.
func showPlace(p finding.Place) Place {
	out := Place{Layer: p.Layer, Source: p.Source}
	if !p.Nowhere() {
		out.Box = ptr(showBox(p.Box))
	}
	return out
}

func showQuestions(all []ask.Question) []Question { return each(all, showQuestion) }

func showQuestion(q ask.Question) Question {
	return Question{
		ID: q.ID, Code: string(q.Code), Text: q.Text, Colour: q.Colour, Line: QuestionLine(q.Line), Help: helpPath + string(q.Code),
		Answers: each(q.Answers, showAnswer), Places: each(q.Places, showPlace), Parts: each(q.Parts, showQuestion),
	}
}

func showAnswer(a ask.Answer) Answer {
	return Answer{
		ID: a.ID, Label: a.Label, Evidence: a.Evidence, NeedsMM: a.NeedsMM, NeedsReason: a.NeedsReason,
		WidthMM: a.WidthMM, HeightMM: a.HeightMM, Values: showValues(a.Values),
	}
}

// showReplies lists the answers that were given, by the ids of their questions.
func showReplies(given ask.Replies) map[string]Reply {
	out := make(map[string]Reply, len(given))
	for question, r := range given {
		out[question] = Reply{Answer: r.Answer, ValueMM: r.MM, Reason: r.Reason}
	}
	return out
}

// readReplies returns nil for none.
func readReplies(given map[string]Reply) ask.Replies {
	if len(given) == 0 {
		return nil
	}
	out := make(ask.Replies, len(given))
	for question, r := range given {
		out[question] = readReply(r)
	}
	return out
}

func readReply(r Reply) ask.Reply {
	return ask.Reply{Answer: r.Answer, MM: r.ValueMM, Reason: r.Reason}
}
