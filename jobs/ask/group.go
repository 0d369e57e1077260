package ask

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

// A group is a question with parts: questions of the same kind that are
// answered at once by an answer to the group, or one by one, each by its own
// ID. An answer to a part stands before the one to its group.

// Suggested is the answer of a group that gives every part its first answer.
const Suggested = "as_suggested"

// MostParts bounds the parts that a group lists. The parts that are not listed
// are answered with the group.
const MostParts = 12

// All returns the questions, each followed by its parts.
func All(questions []Question) []Question {
	var all []Question
	for _, q := range questions {
		all = append(all, q)
		all = append(all, q.Parts...)
	}
	return all
}

// To returns the answer that was given to q by its own ID, or else to one of
// the groups that it is part of. An answer that q does not offer is none.
func (all Replies) To(q *Question, groups ...string) (Answer, bool) {
	if a, ok := q.offered(all[q.ID].Answer); ok {
		return a, true
	}
	for _, id := range groups {
		given := all[id].Answer
		if given == Suggested {
			return q.Answers[0], true
		}
		if a, ok := q.offered(given); ok && !a.NeedsMM {
			return a, true
		}
	}
	return Answer{}, false
}

func (q *Question) offered(answer string) (Answer, bool) {
	at := slices.IndexFunc(q.Answers, func(a Answer) bool { return a.ID == answer })
	if at < 0 {
		return Answer{}, false
	}
	return q.Answers[at], true
}

// Bounded returns at most so many questions: the first as they are, and where
// there are more, the last ones as the parts of rest, which takes its code and
// its places from them.
func Bounded(questions []Question, most int, rest Question) []Question {
	if len(questions) <= most {
		return questions
	}
	for _, q := range questions[most-1:] {
		if len(q.Parts) == 0 {
			rest.Parts = append(rest.Parts, q)
		}
		rest.Parts = append(rest.Parts, q.Parts...)
		rest.Places = append(rest.Places, q.Places...)
	}
	rest.Code = rest.Parts[0].Code
	rest.Parts = rest.Parts[:min(len(rest.Parts), MostParts)]
	rest.Places = rest.Places[:min(len(rest.Places), finding.MaxPlaces)]
	return append(slices.Clone(questions[:most-1]), rest)
}

// Moved returns q with its places, and those of its parts, mapped by m.
func (q Question) Moved(m geometry.Affine) Question {
	q.Places = finding.Moved(q.Places, m)
	q.Parts = slices.Clone(q.Parts)
	for i := range q.Parts {
		q.Parts[i] = q.Parts[i].Moved(m)
	}
	return q
}
