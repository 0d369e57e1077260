package ask

import (
	"maps"
	"strings"

	"knifedesk/jobs/finding"
)

// How much a person is asked about one plan, whatever the jobs that ask.
const (
	MostAtOnce = 3
	MostInAll  = 7
)

// Rest is the ID of the question that ends the asking: of a plan that has asked
// much it is the last, and its answer Suggested stands for the first answer to all
// that is open now and may come up later. Answered by its parts instead, the plan
// asks on.
const Rest = "plan/rest"

// Screen returns the questions of a plan that are open as they are put to a
// person who has given some answers: at most MostAtOnce, and as the last of
// MostInAll the one named Rest. What that cannot settle, since its first answer
// needs a length or a reason, is asked beside it.
func Screen(open []Question, given Replies) []Question {
	left := MostInAll - given.count()
	room := max(1, min(MostAtOnce, left))
	if _, over := given[Rest]; over || len(open) == 0 || len(open) <= room && len(open) < left {
		return open
	}
	var first, last []Question
	for i, q := range open {
		if i < room-1 || !q.suggests() {
			first = append(first, q)
		} else {
			last = append(last, q)
		}
	}
	if len(last) == 0 {
		return first
	}
	rest := Question{
		ID: Rest, Code: last[0].Code,
		Text: "Several things in your drawing can be read in two ways, and you have answered enough. Shall we go on with the likeliest reading of all that is still open?",
		Answers: []Answer{{
			ID: Suggested, Label: "Yes: take the first answer to each question below, and to any that would follow",
			Evidence: "Look at the pictures of the plan before you cut. If you know better, answer the questions below one by one instead.",
		}},
	}
	for _, q := range last {
		q.Parts = nil
		rest.Parts = append(rest.Parts, q)
		rest.Places = append(rest.Places, q.Places...)
	}
	rest.Places = rest.Places[:min(len(rest.Places), finding.MaxPlaces)]
	return append(first, rest)
}

// Asked returns all that can be answered of the open questions of a plan, by ID:
// as they are put, and each by itself.
func Asked(open []Question, given Replies) map[string]Question {
	all := map[string]Question{}
	for _, q := range append(All(open), All(Screen(open, given))...) {
		all[q.ID] = q
	}
	return all
}

// count returns how many questions the replies answer. Those to lines of several
// colours, or to several parts of any one kind, are answers to one question.
func (all Replies) count() int {
	kinds := map[string]bool{}
	for id := range all {
		kind, _, _ := strings.Cut(id, ":")
		kinds[kind] = true
	}
	return len(kinds)
}

// suggests reports whether the first answer to q can be given by itself.
func (q *Question) suggests() bool {
	return len(q.Answers) > 0 && !q.Answers[0].NeedsMM && !q.Answers[0].NeedsReason
}

// Suggest adds the first answers to open questions where a person said that the
// likeliest are to be taken, and reports whether it could add any.
func (all Replies) Suggest(open []Question) (Replies, bool) {
	if all[Rest].Answer != Suggested {
		return all, false
	}
	more, added := maps.Clone(all), false
	for _, q := range open {
		if _, given := all[q.ID]; !given && q.suggests() {
			more[q.ID], added = Reply{Answer: q.Answers[0].ID}, true
		}
	}
	return more, added
}
