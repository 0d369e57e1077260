package view_test

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// The picture of the job that asks bears its question and the answers.
func TestPicturesBearTheQuestions(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	open := []ask.Question{{ID: "one", Text: "Which?", Answers: []ask.Answer{{ID: "a", Label: "This"}, {ID: "b", Label: "That"}}}}
	for _, tt := range []struct {
		name      string
		questions *[]ask.Question
		draw      func(context.Context, *view.Results, int) (*figure.Picture, error)
	}{
		{"size", &p.Size.Questions, view.DrawSize}, {"artwork", &p.Artwork.Questions, view.DrawArtwork},
		{"weeding", &p.Weeding.Questions, view.DrawWeeding}, {"layout", &p.Layout.Questions, view.DrawLayout},
	} {
		for _, asks := range []bool{false, true} {
			*tt.questions = nil
			if asks {
				*tt.questions = open
			}
			drawn, err := tt.draw(t.Context(), p.Results, 1)
			if err != nil {
				t.Fatal(err)
			}
			text, err := drawn.SVG(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range []string{"Which?", "This", "That"} {
				if bytes.Contains(text, []byte(want)) != asks {
					t.Errorf("%s: asks %v, and the picture has %q otherwise", tt.name, asks, want)
				}
			}
		}
		*tt.questions = nil
	}
}

// The commands that give an answer bear it whole: JSON that a shell hands on as it is,
// and a line that ends where its text does.
func TestCommandsThatAnswer(t *testing.T) {
	give := view.CurlAnswer("http://127.0.0.1:8080/v1/plans/b2c1/answers", false)
	keyed := view.CurlAnswer("http://127.0.0.1:8080/v1/plans/b2c1/answers", true)
	for _, c := range []struct {
		answer       ask.Answer
		curl, option string
	}{
		{ask.Answer{ID: "a4"}, `{"answers":{"size/it's":{"answer":"a4"}}}`, "size/it's=a4"},
		{ask.Answer{ID: "width", NeedsMM: true}, `{"answers":{"size/it's":{"answer":"width","value_mm":100}}}`, "size/it's=width:100"},
		{ask.Answer{ID: "pass", NeedsReason: true}, `{"answers":{"size/it's":{"answer":"pass","reason":"why"}}}`, "size/it's=pass:why"},
	} {
		words := run(t, "sh", nil, "-c", "set -- "+give("size/it's", &c.answer)+`; printf '%s|%s' "$5" "$6"`)
		if want := c.curl + "|http://127.0.0.1:8080/v1/plans/b2c1/answers"; words != want {
			t.Errorf("%s: the shell hands on %s, want %s", c.answer.ID, words, want)
		}
		words = run(t, "sh", nil, "-c", "key=kdk_1; set -- "+keyed("size/it's", &c.answer)+`; printf '%s|%s|%s' "$3" "$7" "$8"`)
		if want := "Authorization: Bearer kdk_1|" + c.curl + "|http://127.0.0.1:8080/v1/plans/b2c1/answers"; words != want {
			t.Errorf("%s with a key: the shell hands on %s, want %s", c.answer.ID, words, want)
		}
		words = run(t, "sh", nil, "-c", "printf %s "+view.CommandAnswer("size/it's", &c.answer))
		if want := "--answer=" + c.option; words != want {
			t.Errorf("%s: the shell hands on %s, want %s", c.answer.ID, words, want)
		}
	}
}

// No line of a summary ends in a blank.
func TestSummariesHaveNoBlankEnds(t *testing.T) {
	p := planOfFile(t, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200"><path d="M0 0h20v20z" fill="none" stroke="#007c91"/></svg>`, plan.Choices{Stock: "card-160-a4"})
	if p.status != plan.Asking {
		t.Fatalf("the plan is %s", p.status)
	}
	for i, line := range strings.Split(p.text(), "\n") {
		if strings.TrimRight(line, " ") != line {
			t.Errorf("line %d ends in a blank: %q", i+1, line)
		}
	}
}

// What a person has decided stands apart from what is left to look at, in the text and on
// the worksheet, and is known for that when it was read back from where it is kept.
func TestWhatWasAnsweredStandsApart(t *testing.T) {
	const folded = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">
<g id="CUT" fill="none" stroke="#007c91"><path d="M10 10h80v40h-80z"/></g><g id="FOLD" fill="none" stroke="#7a3eb1"><path d="M10 30h80"/></g></svg>`
	p := planOfFile(t, folded, plan.Choices{Stock: "film-removable-610", Replies: ask.Replies{"artwork/operation:score": {Answer: "nothing"}}})
	text := p.text()
	answered, price := strings.Index(text, "\nanswered   2. 1 line is there to score"), strings.Index(text, "\nprice")
	if answered < price || strings.Count(text, "\nlook") != 1 || strings.Contains(text, "\nlook       2.") {
		t.Errorf("not apart:\n%s", text)
	}
	findings, _ := view.Outcome(p.parts)
	kept, err := json.Marshal(findings)
	if err != nil {
		t.Fatal(err)
	}
	var back []finding.Finding
	if err := json.Unmarshal(kept, &back); err != nil {
		t.Fatal(err)
	}
	var codes []finding.Code
	for _, f := range back {
		if f.IsAnswered() {
			codes = append(codes, f.Code)
		}
	}
	if !slices.Equal(codes, []finding.Code{finding.OperationUnsupported}) {
		t.Errorf("answered: %v", codes)
	}
}
