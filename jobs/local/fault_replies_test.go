package local_test

import (
	"maps"
	"strings"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// mostAnswers bounds how often a drawing is sent again with one more answer.
const mostAnswers = 20

// Whatever is asked about a fault can be answered: each answer reaches the
// job that reads it, and the question is not asked again.
func TestEveryAnswerIsTaken(t *testing.T) {
	kinds := map[string]bool{}
	for _, row := range faults() {
		d := row.desk()
		first := d.run(t, row.with)
		for _, q := range first.questions {
			kinds[q.ID] = true
			for _, a := range q.Answers {
				t.Run(row.name+" "+a.ID, func(t *testing.T) { checkSaid(t, &q, first, checkAnswered(t, d, row.with, q, a)) })
			}
		}
	}
	if len(kinds) < 15 {
		t.Errorf("only %d different questions: %v", len(kinds), kinds)
	}
}

// checkAnswered answers q with a and all that is asked afterwards with the
// first answer, until the drawing goes through or is refused, and returns what becomes of it.
func checkAnswered(t *testing.T, d desk, file string, q ask.Question, a ask.Answer) run {
	t.Helper()
	given := ask.Replies{}
	maps.Copy(given, d.choices.Replies)
	d.choices.Replies = given
	given[q.ID] = reply(a)
	for range mostAnswers {
		r := d.run(t, file)
		if len(r.questions) == 0 {
			if r.last != "" && finding.Worst(r.findings) != finding.Block {
				t.Errorf("stopped at %s, and nothing blocks:%s", r.last, r)
			}
			return r
		}
		for _, next := range r.questions {
			if _, twice := given[next.ID]; twice {
				t.Fatalf("answered with %q, asked again:%s", given[next.ID].Answer, r)
			}
			given[next.ID] = reply(next.Answers[0])
		}
	}
	t.Errorf("still asked after %d answers", mostAnswers)
	return run{}
}

// checkSaid holds what is told of a fault after the question q about it was answered: no
// longer what to change or to answer, unless the answer was that the drawing is changed.
func checkSaid(t *testing.T, q *ask.Question, asked, answered run) {
	t.Helper()
	hints := map[string]bool{}
	for _, one := range ask.All([]ask.Question{*q}) {
		for _, f := range asked.findings {
			if f.Code == one.Code {
				hints[f.Hint] = true
			}
		}
	}
	for _, f := range answered.findings {
		if f.Severity != finding.Block && (hints[f.Hint] || strings.Contains(f.TechnicianHint, "nswer the question")) {
			t.Errorf("%s is answered, and the plan tells %s: %q, %q", q.ID, f.Code, f.Hint, f.TechnicianHint)
		}
	}
}

// reply is an answer as a person gives it; the drawings are about 100 mm wide.
func reply(a ask.Answer) ask.Reply {
	r := ask.Reply{Answer: a.ID}
	if a.NeedsMM {
		r.MM = 100
	}
	if a.NeedsReason {
		r.Reason = "It is a trial"
	}
	return r
}
