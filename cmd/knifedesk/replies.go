package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// answered runs the jobs and gives each reply when its question comes up, as
// somebody at the service would. A reply whose question does not come up, or does
// not offer it, is an error: it would be ignored.
func (p *planned) answered(ctx context.Context, file []byte, replies ask.Replies) (err error) {
	asked := map[string]ask.Question{}
	given := ask.Replies{}
	for {
		p.request.Replies = given
		if p.done, p.status, err = local.Run(ctx, p.list.Rows, file, p.request); err != nil {
			return err
		}
		for _, d := range p.done {
			maps.Copy(asked, ask.Asked(jobs.OutcomeOf(d.Result).Questions, given))
		}
		before := len(given)
		for id := range asked {
			if r, ok := replies[id]; ok {
				given[id] = r
			}
		}
		if err := checkReplies(given, asked); err != nil {
			return err
		}
		switch {
		case len(given) > before:
			continue
		case p.status != plan.Refused: // a refused plan never came to the questions that are left
			return checkReplies(replies, asked)
		}
		return nil
	}
}

func checkReplies(replies ask.Replies, asked map[string]ask.Question) error {
	for _, id := range slices.Sorted(maps.Keys(replies)) {
		if err := checkReply(id, replies[id], asked); err != nil {
			return err
		}
	}
	return nil
}

// checkReply says what is wrong with a reply, and what there is to answer.
func checkReply(id string, r ask.Reply, asked map[string]ask.Question) error {
	_, err := queue.Reply{Question: id, Answer: r.Answer, MM: r.MM, Reason: r.Reason}.Check(asked)
	var bad *queue.ReplyError
	if !errors.As(err, &bad) {
		return err
	}
	told := map[string]string{
		queue.UnknownQuestion: "this question is not asked", queue.UnknownAnswer: "this answer is not offered",
		queue.LengthMissing: "this answer needs a length in mm", queue.LengthNotTaken: "this answer takes no length",
		queue.ReasonMissing: "this answer needs a reason", queue.ReasonNotTaken: "this answer takes no reason",
	}[bad.Code]
	there := asked
	if q, ok := asked[id]; ok {
		there = map[string]ask.Question{id: q}
	}
	return usageError(fmt.Sprintf("--answer %s=%s: %s; %s", id, r.Answer, told, offered(there)))
}

// offered lists the answers to the questions as they are written after --answer.
func offered(asked map[string]ask.Question) string {
	if len(asked) == 0 {
		return "the plan asks nothing"
	}
	var lists []string
	for _, id := range slices.Sorted(maps.Keys(asked)) {
		var list []string
		for _, a := range asked[id].Answers {
			text := id + "=" + a.ID
			if a.NeedsMM {
				text += ":MM"
			}
			if a.NeedsReason {
				text += ":REASON"
			}
			list = append(list, text)
		}
		lists = append(lists, strings.Join(list, ", "))
	}
	return "the plan takes " + strings.Join(lists, "; ")
}
