package jobs

import "knifedesk/jobs/ask"

// mostSuggested bounds how often a job runs anew with suggested answers: one may
// lead to another question.
const mostSuggested = 8

// asSuggested runs a job that reads replies, and where a person said that the
// likeliest is to be taken of all that is open, again with the first answers to
// what it asks.
func asSuggested[R Result](replies *ask.Replies, run func() (R, error)) (R, error) {
	r, err := run()
	for range mostSuggested {
		if err != nil {
			break
		}
		_, open := r.Outcome()
		more, added := replies.Suggest(open)
		if !added {
			break
		}
		*replies = more
		r, err = run()
	}
	return r, err
}
