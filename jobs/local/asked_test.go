package local_test

import (
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// doubtful is a drawing about which every job has something to ask: clipped, of
// no unit, in colours that nobody uses, with a fold on a cut, a wide line, an
// outline drawn twice, a gap, shapes that cross, a piece in a hole and thin strips.
func doubtful() string {
	const teal = "#007c91"
	line := func(colour, data string) string {
		return `<path fill="none" stroke="` + colour + `" stroke-width="0.1" d="` + data + `"/>`
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 180 180"><clipPath id="c"><path d="M0 0h60v60h-60z"/></clipPath>` +
		`<g clip-path="url(#c)">` + line(teal, "M5 5h100v20h-100z") + `</g>` + line("#ff0000", "M10 40h5v5h-5z") + line("#00ff00", "M20 40h5v5h-5z") +
		line(teal, "M10 60h40v20h-40z") + line("#7a3eb1", "M10 60h40") +
		`<path fill="` + teal + `" stroke="` + teal + `" stroke-width="2" d="M60 60h20v20h-20z"/>` +
		line(teal, "M10 90h30v30h-30z") + line(teal, "M10.4 90.4h29.2v29.2h-29.2z") +
		line(teal, "M50 90h30v30h-30v-29.5") + line(teal, "M90 90h20v20h-20z") + line(teal, "M100 100h20v20h-20z") +
		line(teal, "M10 130h40v40h-40z M20 140h20v20h-20z") + line(teal, "M25 145h8v8h-8z") +
		line(teal, "M60 130h60v40h-60z M62 132h27v36h-27z M89.6 132h27v36h-27z") + `</svg>`
}

// However much is doubtful in a drawing, a person sees at most three questions at
// once and seven in all, and none is asked twice.
func TestMostAsked(t *testing.T) {
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "card-220-a4"})
	if err != nil {
		t.Fatal(err)
	}
	request.Replies = ask.Replies{}
	var told []string
	for range ask.MostInAll + 1 {
		done, status, err := local.Run(t.Context(), list.Rows, []byte(doubtful()), request)
		if err != nil {
			t.Fatal(err)
		}
		asked := view.Gather(status, request, nil, list.Parts(local.Results(done))).Questions
		if status != plan.Asking {
			checkSettled(t, status, done, told)
			return
		}
		if len(asked) > ask.MostAtOnce {
			t.Errorf("%d questions at once", len(asked))
		}
		for _, q := range asked {
			if _, twice := request.Replies[q.ID]; twice {
				t.Errorf("%s is asked twice", q.ID)
			}
			told = append(told, q.ID)
			request.Replies[q.ID] = reply(answerOn(&q))
		}
	}
	t.Errorf("still asked after %v", told)
}

// answerOn is the first answer that does not end in a new drawing.
func answerOn(q *ask.Question) ask.Answer {
	for _, a := range q.Answers {
		if a.ID != "redraw" && a.ID != "refuse" {
			return a
		}
	}
	return q.Answers[0]
}

func checkSettled(t *testing.T, status plan.Status, done []local.Done, told []string) {
	t.Helper()
	if len(told) > ask.MostInAll || told[len(told)-1] != ask.Rest {
		t.Errorf("%d questions, want at most %d and the last for the rest: %v", len(told), ask.MostInAll, told)
	}
	asking := map[string]bool{}
	for _, id := range told {
		job, _, _ := strings.Cut(id, "/")
		asking[job] = true
	}
	if len(asking) < 4 {
		t.Errorf("only %v ask", asking)
	}
	last := jobs.OutcomeOf(done[len(done)-1].Result)
	if status == plan.Refused && finding.Worst(last.Findings) != finding.Block {
		t.Errorf("refused, and nothing blocks: %+v", last)
	}
	t.Logf("%s after %v", status, told)
}
