package ask_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"

	"github.com/google/go-cmp/cmp"
)

// questions returns n questions about a layer each, every one with a place.
func questions(n int) (all []ask.Question) {
	for i := range n {
		at := geometry.Pt(float64(i), 0)
		all = append(all, ask.Question{
			ID: ask.ID(fmt.Sprintf("job%d", i), "line"), Code: finding.Code(fmt.Sprint("c", i)), Answers: []ask.Answer{{ID: "a"}, {ID: "b"}},
			Places: []finding.Place{{Box: geometry.BoxAround(at)}},
		})
	}
	return all
}

func ids(all []ask.Question) (names []string) {
	for _, q := range all {
		names = append(names, q.ID)
	}
	return names
}

// Three questions are put at once and seven in all: the last stands for all that
// is left, but for what its first answer cannot settle.
func TestScreen(t *testing.T) {
	given := func(n int) ask.Replies {
		r := ask.Replies{}
		for i := range n {
			r[ask.ID(fmt.Sprintf("given%d", i), "x")] = ask.Reply{Answer: "a"}
		}
		return r
	}
	inMM := questions(4)
	inMM[2].Answers[0].NeedsMM = true
	inWords := questions(3)
	for i := range inWords {
		inWords[i].Answers[0].NeedsReason = true
	}
	over := given(6)
	over[ask.Rest] = ask.Reply{Answer: "none"}
	coloured := ask.Replies{"a/line:#ff0000": {}, "a/line:#00ff00": {}, "b/x": {}}
	for _, c := range []struct {
		name  string
		open  []ask.Question
		given ask.Replies
		want  []string
		parts []string
	}{
		{"three at once", questions(3), nil, []string{"job0/line", "job1/line", "job2/line"}, nil},
		{"four", questions(4), nil, []string{"job0/line", "job1/line", ask.Rest}, []string{"job2/line", "job3/line"}},
		{"after four answers", questions(3), given(4), []string{"job0/line", "job1/line", ask.Rest}, []string{"job2/line"}},
		{"after four answers, two", questions(2), given(4), []string{"job0/line", "job1/line"}, nil},
		{"after six answers", questions(2), given(6), []string{ask.Rest}, []string{"job0/line", "job1/line"}},
		{"after nine answers", questions(1), given(9), []string{ask.Rest}, []string{"job0/line"}},
		{"answers about colours are one", questions(3), coloured, []string{"job0/line", "job1/line", "job2/line"}, nil},
		{"a length is asked beside it", inMM, nil, []string{"job0/line", "job1/line", "job2/line", ask.Rest}, []string{"job3/line"}},
		{"nothing that it could settle", inWords, given(6), []string{"job0/line", "job1/line", "job2/line"}, nil},
		{"asked on", questions(5), over, ids(questions(5)), nil},
		{"nothing is open", nil, given(7), nil, nil},
	} {
		got := ask.Screen(c.open, c.given)
		if diff := cmp.Diff(c.want, ids(got)); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
		for _, q := range got {
			if q.ID == ask.Rest && (cmp.Diff(c.parts, ids(q.Parts)) != "" || len(q.Places) != len(c.parts) || q.Code != q.Parts[0].Code || len(q.Answers) != 1 || q.Answers[0].ID != ask.Suggested) {
				t.Errorf("%s: the rest is %+v", c.name, q)
			}
		}
		if all := ask.Asked(c.open, c.given); len(all) != len(c.open)+len(c.parts[:min(1, len(c.parts))]) {
			t.Errorf("%s: %d can be answered", c.name, len(all))
		}
	}
}

// Who lets the likeliest be taken gives the first answer to each question that is
// open, has none yet and can be answered so; the replies that were given stay.
func TestSuggest(t *testing.T) {
	open := questions(4)
	open[1].Answers[0].NeedsMM = true
	open[2].Answers = nil
	given := ask.Replies{ask.Rest: {Answer: ask.Suggested}, "job0/line": {Answer: "b"}}
	before := maps.Clone(given)
	got, added := given.Suggest(open)
	want := ask.Replies{ask.Rest: {Answer: ask.Suggested}, "job0/line": {Answer: "b"}, "job3/line": {Answer: "a"}}
	if diff := cmp.Diff(want, got); diff != "" || !added || cmp.Diff(before, given) != "" {
		t.Errorf("%t: %s", added, diff)
	}
	if _, added := want.Suggest(open); added {
		t.Error("nothing is left, and yet something was added")
	}
	if got, added := (ask.Replies{"x": {}}).Suggest(open); added || len(got) != 1 {
		t.Errorf("nobody said so, and yet %v", got)
	}
}

// An answer to a part stands before one to its group; what is not offered, and a
// length by the group, are none.
func TestReplyTo(t *testing.T) {
	q := &ask.Question{ID: "p", Answers: []ask.Answer{{ID: "a"}, {ID: "b"}, {ID: "mm", NeedsMM: true}}}
	for _, c := range []struct {
		given ask.Replies
		want  string
	}{
		{ask.Replies{"p": {Answer: "b"}, "g": {Answer: "a"}}, "b"}, {ask.Replies{"g": {Answer: "b"}}, "b"}, {ask.Replies{"p": {Answer: "mm"}}, "mm"},
		{ask.Replies{"g": {Answer: "mm"}}, ""}, {ask.Replies{"p": {Answer: "a"}, "g": {Answer: "b"}}, "a"}, {ask.Replies{"g": {Answer: ask.Suggested}}, "a"}, {ask.Replies{"p": {Answer: "z"}, "h": {Answer: "b"}}, "b"}, {ask.Replies{"x": {Answer: "a"}}, ""}, {nil, ""},
	} {
		got, ok := c.given.To(q, "g", "h")
		if got.ID != c.want || ok != (c.want != "") {
			t.Errorf("of %v the answer is %q, %t", c.given, got.ID, ok)
		}
	}
}

// The last questions of many become the parts of one, groups by their parts.
func TestManyBecomeOne(t *testing.T) {
	all := questions(5)
	all[3].Parts = questions(2)
	got := ask.Bounded(all, 3, ask.Question{ID: "rest"})
	if diff := cmp.Diff([]string{"job0/line", "job1/line", "rest"}, ids(got)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"job2/line", "job0/line", "job1/line", "job4/line"}, ids(got[2].Parts)); diff != "" || got[2].Code != "c2" || len(got[2].Places) != 3 {
		t.Errorf("%s: %+v", diff, got[2])
	}
	if same := ask.Bounded(all, 5, ask.Question{}); cmp.Diff(ids(all), ids(same)) != "" {
		t.Errorf("five of five are %v", ids(same))
	}
	many := ask.Bounded(questions(finding.MaxPlaces+5), 2, ask.Question{ID: "rest"})
	if len(many) != 2 || len(many[1].Parts) != ask.MostParts || len(many[1].Places) != finding.MaxPlaces {
		t.Errorf("%d, with %d parts and %d places", len(many), len(many[1].Parts), len(many[1].Places))
	}
	if diff := cmp.Diff([]string{"job2/line", "job3/line", "job0/line", "job1/line", "job4/line"}, ids(ask.All(all[2:]))); diff != "" {
		t.Error(diff)
	}
}

// A job gets the replies to its own questions, and that to all that is left.
func TestRepliesOfAJob(t *testing.T) {
	all := ask.Replies{"size/frame": {Answer: "1"}, "sizes/x": {Answer: "2"}, ask.Rest: {Answer: "3"}}
	got := slices.Sorted(maps.Keys(all.Of("size")))
	if diff := cmp.Diff([]string{ask.Rest, "size/frame"}, got); diff != "" {
		t.Error(diff)
	}
	if got := (ask.Replies{"size/frame": {}}).Of("layout"); got != nil {
		t.Errorf("another job gets %v", got)
	}
}

// Places move with the work, those of the parts too, and the question stays.
func TestQuestionsMove(t *testing.T) {
	q := questions(2)[1]
	q.Parts = questions(2)
	moved := q.Moved(geometry.Translate(10, 0))
	if moved.Places[0].Box.Min.X != 11 || moved.Parts[1].Places[0].Box.Min.X != 11 || q.Places[0].Box.Min.X != 1 || q.Parts[1].Places[0].Box.Min.X != 1 {
		t.Errorf("%+v of %+v", moved, q)
	}
}

// Replies as they are written on command lines.
func TestParseReply(t *testing.T) {
	for text, want := range map[string]ask.Reply{"a/b=yes": {Answer: "yes"}, "a/b=len:12.5": {Answer: "len", MM: 12.5}, "a/b=pass:it is for practice: so": {Answer: "pass", Reason: "it is for practice: so"}} {
		if q, got, err := ask.ParseReply(text); err != nil || q != "a/b" || got != want {
			t.Errorf("%q is %q, %+v, %v", text, q, got, err)
		}
	}
	for _, text := range []string{"", "a/b", "a/b=", "=yes", "a/b=:5"} {
		if _, got, err := ask.ParseReply(text); err == nil {
			t.Errorf("%q is %+v", text, got)
		}
	}
}

// What stands for the rest lists its questions without their parts, and no more
// places than a finding has; one answer is enough for it to settle a question. The
// card that answers are drawn beside is ID-1 of ISO/IEC 7810.
func TestRestIsShort(t *testing.T) {
	open := questions(finding.MaxPlaces + 9)
	open[5].Parts = questions(3)
	open[6].Answers = open[6].Answers[:1]
	got := ask.Screen(open, nil)
	if rest := got[len(got)-1]; len(got) != 3 || len(rest.Parts) != len(open)-2 || len(rest.Parts[3].Parts) != 0 || len(rest.Places) != finding.MaxPlaces {
		t.Errorf("%d are asked, the last with %d parts and %d places", len(got), len(rest.Parts), len(rest.Places))
	}
	if ask.CardWidthMM != 85.6 || ask.CardHeightMM != 53.98 || ask.MostParts != 12 {
		t.Error("a card or a group is of another size")
	}
}
