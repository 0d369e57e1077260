package ask_test

import (
	"fmt"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// asking makes n questions, of which those numbered in lengths have a first answer
// that needs a length.
func asking(n int, lengths ...int) []ask.Question {
	var all []ask.Question
	for i := range n {
		all = append(all, ask.Question{
			ID: fmt.Sprintf("job/kind%d", i), Code: finding.Code(fmt.Sprint("code", i)), Places: []finding.Place{{Box: geometry.EmptyBox()}},
			Answers: []ask.Answer{{ID: "first"}, {ID: "second"}},
		})
	}
	for _, i := range lengths {
		all[i].Answers[0].NeedsMM = true
	}
	return all
}

// given makes replies to n questions of other kinds.
func given(n int) ask.Replies {
	all := ask.Replies{}
	for i := range n {
		all[fmt.Sprintf("earlier/kind%d", i)] = ask.Reply{Answer: "first"}
	}
	return all
}

// Three questions at once and seven in all: the last stands for all that is left,
// but for what needs a length. Answers to parts of one kind count once.
func TestScreen(t *testing.T) {
	kinds := ask.Replies{}
	for i := range 9 {
		kinds[fmt.Sprintf("artwork/line:#%06d", i)] = ask.Reply{Answer: "cut"}
	}
	for _, c := range []struct {
		name    string
		open    []ask.Question
		replies ask.Replies
		ids     string // of what is put to a person, the last letter of each; r: the rest
		parts   int    // of the rest
	}{
		{"nothing", nil, nil, "", 0},
		{"three", asking(3), nil, "012", 0},
		{"four", asking(4), nil, "01r", 2},
		{"many", asking(30), nil, "01r", 28},
		{"four, the last of them with a length", asking(4, 3), nil, "013r", 1},
		{"lengths alone", asking(4, 0, 1, 2, 3), nil, "0123", 0},
		{"three after three", asking(3), given(3), "012", 0},
		{"three after four", asking(3), given(4), "01r", 1},
		{"two after five", asking(2), given(5), "0r", 1},
		{"one after six", asking(1), given(6), "r", 1},
		{"one after many", asking(1), given(20), "r", 1},
		{"one with a length after six", asking(1, 0), given(6), "0", 0},
		{"three after many lines", asking(3), kinds, "012", 0},
		{"the rest is answered", asking(9), ask.Replies{ask.Rest: {Answer: ask.Suggested}}, "012345678", 0},
	} {
		ids, parts := "", 0
		for _, q := range ask.Screen(c.open, c.replies) {
			if q.ID != ask.Rest {
				ids += q.ID[len(q.ID)-1:]
				continue
			}
			ids, parts = ids+"r", len(q.Parts)
			if q.Code != q.Parts[0].Code || len(q.Places) != min(parts, finding.MaxPlaces) || q.Answers[0].ID != ask.Suggested {
				t.Errorf("%s: the rest is %+v", c.name, q)
			}
		}
		if ids != c.ids || parts != c.parts {
			t.Errorf("%s: %q with %d parts, want %q with %d", c.name, ids, parts, c.ids, c.parts)
		}
	}
}

// Whatever is put to a person can be answered: by itself, and within the rest.
func TestAsked(t *testing.T) {
	all := ask.Asked(asking(5), nil)
	for _, id := range []string{"job/kind0", "job/kind4", ask.Rest} {
		if _, ok := all[id]; !ok {
			t.Errorf("%s cannot be answered", id)
		}
	}
}

// The likeliest answers are taken for all that can be, once a person said so, and
// nothing that was answered is changed.
func TestSuggest(t *testing.T) {
	if got, added := given(1).Suggest(asking(2)); added || len(got) != 1 {
		t.Errorf("unasked: %v", got)
	}
	replies := ask.Replies{ask.Rest: {Answer: ask.Suggested}, "job/kind1": {Answer: "second"}}
	got, added := replies.Suggest(asking(4, 3))
	want := ask.Replies{ask.Rest: {Answer: ask.Suggested}, "job/kind0": {Answer: "first"}, "job/kind1": {Answer: "second"}, "job/kind2": {Answer: "first"}}
	if !added || fmt.Sprint(got) != fmt.Sprint(want) || len(replies) != 2 {
		t.Errorf("%v, want %v", got, want)
	}
	if _, added := got.Suggest(asking(4, 3)); added {
		t.Error("there is always more to add")
	}
}
