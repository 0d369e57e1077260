package queue_test

import (
	"errors"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/queue"
)

// What lets something pass needs a reason, and nothing else takes one, on command
// lines as in requests.
func TestReasons(t *testing.T) {
	asked := map[string]ask.Question{"weeding/below_limit": {Answers: []ask.Answer{{ID: "redraw"}, {ID: "waive", NeedsReason: true}}}}
	for text, want := range map[string]string{
		"weeding/below_limit=redraw":            "",
		"weeding/below_limit=waive:for a trial": "",
		"weeding/below_limit=waive":             queue.ReasonMissing,
		"weeding/below_limit=waive: ":           queue.ReasonMissing,
		"weeding/below_limit=redraw:at home":    queue.ReasonNotTaken,
		"weeding/below_limit=redraw:5":          queue.LengthNotTaken,
	} {
		id, r, err := ask.ParseReply(text)
		if err != nil {
			t.Fatal(err)
		}
		_, err = queue.Reply{Question: id, Answer: r.Answer, MM: r.MM, Reason: r.Reason}.Check(asked)
		var bad *queue.ReplyError
		if errors.As(err, &bad) != (want != "") || bad != nil && bad.Code != want {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}
