package meaning

import (
	"cmp"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// The subjects of the groups of questions.
const (
	groupLines      = "lines"      // what lines of unknown colours and layers are for
	groupOperations = "operations" // what becomes of lines that the stock does not take
	groupFolds      = "folds"      // which way folds go
	groupRest       = "rest"       // all that is too much for one screen
)

// mostAsked bounds the questions of a drawing that this job has open at once,
// and as far as it can those that it asks in all.
const mostAsked = 3

// ask raises the fault f with a question about it, whose ID is the subject, or,
// where the answer has been given, notes the answer and returns its ID.
func (k *desk) ask(f finding.Finding, q ask.Question) string {
	subject := q.ID
	q.ID, q.Code, q.Places = ask.ID(artwork.Name, subject), f.Code, f.Places
	if a, ok := k.req.Replies.To(&q, groupsOf(subject)...); ok {
		k.note(answered(f, subject, a))
		return a.ID
	}
	k.note(f.As(finding.Ask))
	k.questions = append(k.questions, q)
	return ""
}

// answered is the finding of a fault that was decided.
func answered(f finding.Finding, subject string, a ask.Answer) finding.Finding {
	return f.Answered(a.Label).WithMend(finding.Mend{ID: subject, Applied: true, Effect: a.Label + "."})
}

// groupsOf returns the groups that a question about the subject may be part of,
// that of its kind first.
func groupsOf(subject string) []string {
	rest := ask.ID(artwork.Name, groupRest)
	switch kind, _, _ := strings.Cut(subject, ":"); kind {
	case "line", "fill", "layer":
		return []string{ask.ID(artwork.Name, groupLines), rest}
	case "operation":
		return []string{ask.ID(artwork.Name, groupOperations), rest}
	case "fold":
		return []string{ask.ID(artwork.Name, groupFolds), rest}
	}
	return []string{rest}
}

// screen returns the questions that are open, what decides most first, and no
// more than a person takes in at once: the last become a group.
func screen(k *desk) []ask.Question {
	all := operationsTogether(k)
	slices.SortStableFunc(all, func(a, b ask.Question) int { return cmp.Compare(weight(a.ID), weight(b.ID)) })
	most := max(1, mostAsked-len(k.req.Replies))
	return ask.Bounded(all, most, ask.Question{
		ID:   ask.ID(artwork.Name, groupRest),
		Text: "Some lines of the drawing can be cut in more than one way. Should each be cut in its likeliest way?",
		Answers: []ask.Answer{{
			ID: ask.Suggested, Label: "Yes, take the first answer to each question of this group",
			Evidence: "The first answer is the likeliest; the plan lists what was taken. Answer a question by itself where you know better.",
		}},
	})
}

// weight puts questions in order: what the lines are for, then what is cut, then
// where.
func weight(id string) int {
	_, subject, _ := strings.Cut(id, "/")
	kind, _, _ := strings.Cut(subject, ":")
	order := []string{groupLines, "line", "fill", "layer", questionLocked, groupOperations, "operation", "mirror", "shared_edges", "wide_lines", "painted_edge", "doubled_lines", groupFolds, "fold"}
	if at := slices.Index(order, kind); at >= 0 {
		return at
	}
	return len(order)
}

// operationsTogether makes one question of several about operations that the
// stock does not take: they have the same answers.
func operationsTogether(k *desk) []ask.Question {
	all, group := k.questions, ask.Question{
		ID: ask.ID(artwork.Name, groupOperations), Code: finding.OperationUnsupported,
		Text: "Some lines ask for what cannot be done on this stock. What should happen to them?",
		Answers: []ask.Answer{
			{ID: string(workshop.MeansNothing), Label: "Leave them all out", Evidence: "The rest of the drawing stays as it is."},
			{ID: string(workshop.MeansCut), Label: "Cut them all", Evidence: "A cut parts what lies beside it, and changes what is peeled off or falls out."},
		},
	}
	var others []ask.Question
	for _, q := range all {
		if q.Code != finding.OperationUnsupported {
			others = append(others, q)
			continue
		}
		group.Parts = append(group.Parts, q)
		group.Places = append(group.Places, q.Places...)
	}
	if len(group.Parts) < 2 {
		return all
	}
	group.Places = group.Places[:min(len(group.Places), finding.MaxPlaces)]
	finished(&group.Answers[0], k.taken, geometry.EmptyBox(), k.given)
	finished(&group.Answers[1], k.taken.Union(k.pending), geometry.EmptyBox(), k.given)
	return append(others, group)
}
