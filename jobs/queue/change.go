package queue

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/view"

	"github.com/google/uuid"
)

// ErrState: the plan's status does not allow it.
var ErrState = errors.New("queue: not while the plan has this status")

// ErrAccepted: the plan's price was taken, and its stock is held, handed out or
// used up.
var ErrAccepted = errors.New("queue: not while the plan is accepted")

// The codes of a ReplyError.
const (
	UnknownQuestion = "unknown_question" // never asked of this plan
	UnknownAnswer   = "unknown_answer"   // not among the question's answers
	LengthMissing   = "length_missing"   // the answer needs a length above 0 mm
	LengthNotTaken  = "length_not_taken" // the answer has no use for a length
	ReasonMissing   = "reason_missing"   // the answer needs a reason
	ReasonNotTaken  = "reason_not_taken" // the answer has no use for a reason
)

// ReplyError says why an answer was not taken.
type ReplyError struct {
	Question string
	Code     string
}

func (e *ReplyError) Error() string {
	return fmt.Sprintf("queue: the answer to %q: %s", e.Question, e.Code)
}

// Reply is an answer to a question of a plan.
type Reply struct {
	Question string
	Answer   string
	MM       float64 // the length, where the answer needs one
	Reason   string  // where the answer needs one
	Author   string
}

// Answer takes answers and moves the plan on: the first job that reads them
// runs again, what comes before it does not. A question that was answered may
// be answered anew, also once the plan is ready. Nothing is taken where one
// answer is not right: a *ReplyError says which. ErrState: it was cancelled.
func (q *Queue) Answer(ctx context.Context, client string, id uuid.UUID, replies ...Reply) (Plan, error) {
	ofAll := slices.ContainsFunc(replies, func(r Reply) bool { return jobs.OfAllFilms(r.Question) })
	return reply(ctx, q, client, id, ofAll, func(m *move) ([]given, error) {
		asked, err := m.questions(ctx)
		if err != nil {
			return nil, err
		}
		all := make([]given, len(replies))
		for i, r := range replies {
			question, err := r.Check(asked)
			if err != nil {
				return nil, err
			}
			all[i] = given{question, r, false}
		}
		return all, nil
	})
}

// TakeBack takes the answer to a question back, so that it is open again.
func (q *Queue) TakeBack(ctx context.Context, client string, id uuid.UUID, question, author string) (Plan, error) {
	return reply(ctx, q, client, id, jobs.OfAllFilms(question), func(m *move) ([]given, error) {
		asked, err := m.questions(ctx)
		if err != nil {
			return nil, err
		}
		was, ok := m.request.Replies[question]
		if !ok {
			return nil, &ReplyError{question, UnknownQuestion}
		}
		return []given{{asked[question], Reply{Question: question, Answer: was.Answer, MM: was.MM, Reason: was.Reason, Author: author}, true}}, nil
	})
}

// remember adds to the history of the plan's answers.
func (m *move) remember(ctx context.Context, asked ask.Question, r Reply, takenBack bool) error {
	text, err := json.Marshal(asked)
	if err != nil {
		return fmt.Errorf("queue: a question: %w", err)
	}
	return m.tx.AddReply(ctx, m.plan.ID, db.Reply{
		Revision: m.plan.Revision + 1, Question: r.Question, Asked: text,
		Answer: r.Answer, MM: r.MM, Reason: r.Reason, Author: r.Author, TakenBack: takenBack,
	})
}

// questions returns every question that the plan was ever asked and that is
// open or was answered, by ID.
func (m *move) questions(ctx context.Context) (map[string]ask.Question, error) {
	asked := map[string]ask.Question{}
	past, err := m.tx.Replies(ctx, m.plan.ID)
	if err != nil {
		return nil, err
	}
	for _, r := range past {
		var q ask.Question
		if err := json.Unmarshal(r.Asked, &q); err != nil {
			return nil, fmt.Errorf("queue: question %s: %w", r.Question, err)
		}
		asked[r.Question] = q
	}
	heads, err := m.tx.PlanHeads(ctx, m.plan.ID)
	if err != nil {
		return nil, err
	}
	for _, h := range heads {
		var o jobs.Outcome
		if !h.There || h.State != string(view.Done) {
			continue
		}
		if err := json.Unmarshal(h.Outcome, &o); err != nil {
			return nil, fmt.Errorf("queue: the outcome of %s: %w", h.Key, err)
		}
		maps.Copy(asked, ask.Asked(o.Questions, m.request.Replies))
	}
	return asked, nil
}

// Check returns the question that the reply answers, of those asked, by ID. It
// fails with a *ReplyError.
func (r Reply) Check(asked map[string]ask.Question) (ask.Question, error) {
	question, ok := asked[r.Question]
	if !ok {
		return question, &ReplyError{r.Question, UnknownQuestion}
	}
	at := slices.IndexFunc(question.Answers, func(a ask.Answer) bool { return a.ID == r.Answer })
	if at < 0 {
		return question, &ReplyError{r.Question, UnknownAnswer}
	}
	needed, reason := question.Answers[at].NeedsMM, question.Answers[at].NeedsReason
	switch {
	case reason && strings.TrimSpace(r.Reason) == "":
		return question, &ReplyError{r.Question, ReasonMissing}
	case !reason && r.Reason != "":
		return question, &ReplyError{r.Question, ReasonNotTaken}
	case needed && (r.MM <= 0 || math.IsInf(r.MM, 0) || math.IsNaN(r.MM)):
		return question, &ReplyError{r.Question, LengthMissing}
	case !needed && r.MM != 0:
		return question, &ReplyError{r.Question, LengthNotTaken}
	}
	return question, nil
}

// Cancel cancels a plan that is not ready, refused or failed; those come back
// as they are. Others that wait for the same results are not touched.
func (q *Queue) Cancel(ctx context.Context, client string, id uuid.UUID) (Plan, error) {
	return q.locked(ctx, client, id, func(m *move) error {
		if now := plan.Status(m.plan.Status); now.Settled() && now != plan.Asking {
			return nil
		}
		if err := m.leave(ctx); err != nil {
			return err
		}
		m.end = plan.Cancelled
		return m.endAs(ctx, plan.Cancelled, "")
	})
}

// changed alters the request of a plan and sends it through the list anew. A request that
// says what it said moves only a plan that failed.
func changed(ctx context.Context, m *move, alter func() error) (err error) {
	if m.plan.Status == string(plan.Cancelled) {
		return fmt.Errorf("%w: %s", ErrState, m.plan.Status)
	}
	switch a, err := ledger.Of(ctx, m.tx.Queries, m.plan.ID); {
	case err != nil:
		return err
	case a.Binds():
		return ErrAccepted
	}
	if m.request, err = RequestOf(m.plan); err != nil {
		return err
	}
	before, err := json.Marshal(m.request)
	if err != nil {
		return fmt.Errorf("queue: request: %w", err)
	}
	if err := alter(); err != nil {
		return err
	}
	if m.plan.Request, err = json.Marshal(m.request); err != nil {
		return fmt.Errorf("queue: request: %w", err)
	}
	if bytes.Equal(before, m.plan.Request) && m.plan.Status != string(plan.Failed) {
		return nil
	}
	if err := m.tx.SetRequest(ctx, m.plan.ID, m.plan.Request); err != nil {
		return err
	}
	m.plan.Revision++
	return m.restart(ctx)
}

// locked runs do in a transaction that holds the keys the plan waits for, and
// then the plan, and returns the plan as it is afterwards.
func (q *Queue) locked(ctx context.Context, client string, id uuid.UUID, do func(*move) error) (Plan, error) {
	return q.lockedAfter(ctx, client, id, func(context.Context, db.Tx, uuid.UUID) error { return nil }, do)
}

// hold locks the keys that plans of client wait for, and then the plans in the order of
// their IDs. What is another's, or is not there, is left out.
func (q *Queue) hold(ctx context.Context, tx db.Tx, client string, ids ...uuid.UUID) ([]*move, error) {
	held, keys := map[uuid.UUID][]db.Waited{}, []string{}
	for _, id := range ids {
		waited, err := tx.WaitsFor(ctx, id)
		if err != nil {
			return nil, err
		}
		held[id] = waited
		for _, h := range waited {
			keys = append(keys, h.Key)
		}
	}
	if len(keys) > 0 {
		if err := tx.LockKeys(ctx, keys...); err != nil {
			return nil, err
		}
	}
	var moves []*move
	for _, id := range slices.SortedFunc(slices.Values(ids), func(a, b uuid.UUID) int { return bytes.Compare(a[:], b[:]) }) {
		p, err := tx.LockPlan(ctx, id)
		if errors.Is(err, db.ErrNotFound) || err == nil && client != p.Client && client != db.AnyClient {
			continue
		}
		if err != nil {
			return nil, err
		}
		switch now, err := tx.WaitsFor(ctx, id); {
		case err != nil:
			return nil, err
		case !slices.Equal(now, held[id]):
			return nil, db.ErrAgain // it moved on before it was locked
		}
		moves = append(moves, &move{Queue: q, tx: tx, plan: p, held: held[id]})
	}
	return moves, nil
}
