package jobs_test

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// long is a result of many texts, some longer than any part that is kept while it is written.
type long struct {
	Texts []string `json:"texts"`
}

func (*long) Outcome() ([]finding.Finding, []ask.Question) { return nil, nil }

// What is written in parts is, joined, what is written at once, however long it is.
func TestLongResultsAreWrittenWhole(t *testing.T) {
	many := make([]int, 3000)
	for i := range many {
		many[i] = i
	}
	for _, sizes := range [][]int{{}, {1}, {5000, 1, 7}, {3_000_000, 12, 100_000, 2_000_000, 1}, many} {
		r := &long{}
		for i, n := range sizes {
			r.Texts = append(r.Texts, strings.Repeat(string(rune('a'+i%26)), n)+"<&>")
		}
		job := jobs.Define0(jobs.Row{Name: "long", Revision: 1}, func(*plan.Request) struct{} { return struct{}{} },
			func(context.Context, struct{}) (*long, error) { return r, nil })
		node, err := jobs.NewNode(job.Row(), &plan.Request{}, jobs.Sum{})
		if err != nil {
			t.Fatal(err)
		}
		_, body, err := node.Run(t.Context(), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		var want bytes.Buffer
		text := json.NewEncoder(&want)
		text.SetEscapeHTML(false)
		if err := text.Encode(r); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(body, bytes.TrimSuffix(want.Bytes(), []byte("\n"))) {
			t.Errorf("%d texts: %d bytes differ from the %d written at once", len(sizes), len(body), want.Len()-1)
		}
	}
}
