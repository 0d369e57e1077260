package api_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"testing"
)

// unknown is the plate with a line of a colour that means nothing here.
const unknown = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/></g>
<g fill="none" stroke="#d0d000"><path d="M20 20H60"/></g></svg>`

// The id of a question is one segment of a path: its slash and its # are sent
// percent-encoded. Sent as it is, the slash parts it, and there is no such path.
func TestQuestionIDsInPaths(t *testing.T) {
	d := open(t)
	p := d.submit(t, "unknown.svg", []byte(unknown), "stock", "card-220-a4")
	if len(p.Questions) == 0 || p.Questions[0].ID != "artwork/line:#d0d000" {
		t.Fatalf("status %s, questions %+v", p.Status, p.Questions)
	}
	q := p.Questions[0]
	reply, err := json.Marshal(map[string]any{"answers": map[string]any{q.ID: map[string]any{"answer": q.Answers[0].ID}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, encoded := range []string{url.PathEscape(q.ID), "artwork%2fline%3A%23d0d000"} {
		d.call(t, http.MethodPost, p.Links["answers"], reply, "Content-Type", "application/json", "Prefer", "wait=30").json(t, &p)
		if _, given := p.Answers[q.ID]; !given {
			t.Fatalf("answers %+v", p.Answers)
		}
		d.refuses(t, d.call(t, http.MethodDelete, p.Links["answers"]+"/artwork/line:%23d0d000", nil), http.StatusNotFound, "no_such_path")
		d.refuses(t, d.call(t, http.MethodDelete, p.Links["answers"]+"/"+url.PathEscape(q.ID+"%2F"), nil), http.StatusUnprocessableEntity, "unknown_question")
		a := d.call(t, http.MethodDelete, p.Links["answers"]+"/"+encoded, nil)
		p.Answers = nil
		a.json(t, &p)
		if _, given := p.Answers[q.ID]; a.status != http.StatusAccepted || given {
			t.Errorf("%s: %d, answers %+v", encoded, a.status, p.Answers)
		}
	}
}

// A finding that was asked about and answered says so, and no other does.
func TestFindingsSayThatTheyWereAnswered(t *testing.T) {
	const folded = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">
<g id="CUT" fill="none" stroke="#007c91"><path d="M10 10h80v40h-80z"/></g><g id="FOLD" fill="none" stroke="#7a3eb1"><path d="M10 30h80"/></g></svg>`
	p := open(t).submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610", "answer", "artwork/operation:score=nothing")
	var answered []string
	for _, f := range p.Findings {
		if f.Answered {
			answered = append(answered, string(f.Code))
		}
	}
	if len(p.Findings) < 2 || len(answered) != 1 || answered[0] != "operation_unsupported" {
		t.Errorf("%s, of %d findings answered: %v", p.Status, len(p.Findings), answered)
	}
}
