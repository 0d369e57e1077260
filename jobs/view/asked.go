package view

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// writeQuestions writes what is asked: each question with its answers and how the
// likeliest is given, a group before its parts.
func writeQuestions(line writeLine, questions []ask.Question, answer func(string, *ask.Answer) string) {
	for _, q := range questions {
		line("question", "%s (id %s)", q.Text, q.ID)
		if where := Where(q.Places); where != "" {
			line("", "where: %s", where)
		}
		writeAnswers(line, q.Answers)
		if answer != nil && len(q.Answers) > 0 {
			line("", "To answer so, for example with %s:", q.Answers[0].ID)
			line("", "%s", answer(q.ID, &q.Answers[0]))
		}
		for _, part := range q.Parts {
			line("", "or alone: %s (id %s)", part.Text, part.ID)
			writeAnswers(line, part.Answers)
		}
	}
}

func writeAnswers(line writeLine, answers []ask.Answer) {
	for i, a := range answers {
		line("", "%d. %s: %s. %s", i+1, a.ID, a.Label, speaksFor(&a))
		if size := finishedText(&a); size != "" {
			line("", "   %s", size)
		}
	}
}

// speaksFor says why one would give an answer. Of a size the person who drew knows best,
// and hears only where it cannot be cut: by what factor, and how near to a paper it comes,
// is evidence for the technician.
func speaksFor(a *ask.Answer) string {
	fits, judged := a.Values["fits_stock"]
	switch {
	case !judged:
		return a.Evidence
	case fits == finding.Truth(false):
		return "It does not fit the stock."
	}
	return "It fits the stock."
}

// CurlAnswer returns how an answer is given from a shell at the address that takes
// the answers of a plan; to one that wants a key with that of the variable key.
func CurlAnswer(address string, keyed bool) func(question string, a *ask.Answer) string {
	shows := ""
	if keyed {
		shows = `-H "Authorization: Bearer $key" `
	}
	return func(question string, a *ask.Answer) string {
		r := ask.Reply{Answer: a.ID}
		if a.NeedsMM {
			r.MM = 100
		}
		if a.NeedsReason {
			r.Reason = "why"
		}
		body, _ := json.Marshal(map[string]ask.Replies{"answers": {question: r}}) // of texts and a number
		return "curl " + shows + "-H 'Content-Type: application/json' -d " + quoted(string(body)) + " " + quoted(address)
	}
}

// CommandAnswer returns the words of the command line that give an answer.
func CommandAnswer(question string, a *ask.Answer) string {
	given := question + "=" + a.ID
	switch {
	case a.NeedsMM:
		given += ":100"
	case a.NeedsReason:
		given += ":why"
	}
	return "--answer=" + quoted(given)
}

// quoted is a text that a shell hands on as it is (POSIX, 2.2.2).
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// finishedText says what the finished work measures under an answer, beside a
// bank card, which everybody has at hand; "" where the answer does not say.
func finishedText(a *ask.Answer) string {
	if a.WidthMM == 0 && a.HeightMM == 0 {
		return ""
	}
	if a.WidthMM == 0 || a.HeightMM == 0 {
		return fmt.Sprintf("Only straight lines are then left, %s mm long at most.", short(math.Max(a.WidthMM, a.HeightMM)))
	}
	text := fmt.Sprintf("Your work is then %s × %s mm,", short(a.WidthMM), short(a.HeightMM))
	if a.TellsSize() {
		text = "That is"
	}
	wide := a.WidthMM / ask.CardWidthMM
	switch {
	case wide >= 1.5:
		return fmt.Sprintf("%s about as wide as %.0f bank cards.", text, math.Round(wide))
	case wide > 0.75:
		return text + " about as wide as a bank card."
	case wide > 0.35:
		return text + " about half as wide as a bank card."
	}
	return text + " much less wide than a bank card."
}

// across and upwards say where a place lies from the lower left corner of the work, whole mm,
// also beyond its edges.
func across(x float64) string {
	if x < 0 {
		return fmt.Sprintf("%.0f mm left of the work", -x)
	}
	return fmt.Sprintf("%.0f mm from the left", x+0)
}

func upwards(y float64) string {
	if y < 0 {
		return fmt.Sprintf("%.0f mm below the work", -y)
	}
	return fmt.Sprintf("%.0f mm up", y+0)
}

// mostWhere is how many places a text names.
const mostWhere = 2

// Where says where the first places are, as one measures from the edges of
// the work.
func Where(places []finding.Place) string {
	var parts []string
	alike := 0 // places that the text tells already
	for _, p := range places {
		var at []string
		if !p.Nowhere() {
			c := p.Box.Centre()
			at = append(at, across(math.Round(c.X))+" and "+upwards(math.Round(c.Y)))
		}
		if p.Layer != "" {
			at = append(at, "layer "+p.Layer)
		}
		text := strings.Join(at, ", ")
		switch {
		case text == "":
		case slices.Contains(parts, text):
			alike++
		default:
			parts = append(parts, text)
		}
		if len(parts) == mostWhere {
			break
		}
	}
	text := strings.Join(parts, "; ")
	if more := len(places) - len(parts) - alike; text != "" && more > 0 {
		text += finding.Fill("; {n} more {n:place|places}", finding.Values{"n": finding.Int(more)})
	}
	return text
}
